"""The station's nouns, the chain of angles, and what checks hand on."""
