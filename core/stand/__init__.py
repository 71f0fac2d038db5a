"""The stand: what the wind, the weight and the ground do to it. Advice for planning, no certificate."""
