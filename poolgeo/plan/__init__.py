"""Plan: from the design to painted regions, every line of them on one grid."""
