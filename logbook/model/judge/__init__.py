"""Proofs, what stands until proven, the rules, and the check."""
