"""The chosen pass opened: its words, its sky, its travel and rates, how to steer it."""
