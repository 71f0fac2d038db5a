"""All wishes of the seat together: seconds lost, a leg downhill, the lee, the cable's side."""
