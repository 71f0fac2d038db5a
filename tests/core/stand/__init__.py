"""Tests of the stand."""
