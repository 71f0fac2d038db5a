"""What the window holds: the plan and its undo, the results, the worker that makes them."""
