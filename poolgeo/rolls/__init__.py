"""Rolls: in what pieces runs of tape are cut from whole rolls."""
