"""Clearance: where the turning station comes too near to what stands still, in the tripod's frame."""
