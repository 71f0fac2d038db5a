"""Northkey's computation: predicts passes and checks them on a portable az-el mount. Imports no Qt."""
