"""What one pass needs of the mount: ways, splits, parts, the verdict and its reason."""
