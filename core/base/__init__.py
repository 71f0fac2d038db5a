"""What everything stands on: angles, times, errors, stored models, memo, progress."""
