"""The bill: net, measured and ordered quantities, and what they cost."""
