"""Judges a watch: proofs, what stands until proven, the rules, and the check before water."""
