"""Tests of the Setup page."""
