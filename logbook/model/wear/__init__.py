"""What water and time cost a seal."""
