"""Northkey's front ends: the command line and the Qt window. Holds no computation of its own."""
