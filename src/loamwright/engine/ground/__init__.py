"""The ground: water in its layers."""
