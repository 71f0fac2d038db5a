"""The adapter plate between tripod and rotator: the part, its holes, its checks, how it is made."""
