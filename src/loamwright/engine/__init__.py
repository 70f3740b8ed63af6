"""Habitat and physics meet here: arrays in, results and findings out."""
