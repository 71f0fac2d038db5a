"""Faults drawn over core: which of them no test notices."""
