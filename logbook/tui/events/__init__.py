"""Workshop events, faults and knocks."""
