"""Review: whether a system is right for a pool, rule by rule, each with its source."""
