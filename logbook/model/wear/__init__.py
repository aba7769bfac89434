"""Wear: what water and time cost a seal."""
