"""Supply: how much of each material the layers and details take, in what packs."""
