"""Ultraviolet, plant light and radiant heat, from lamps to every place that matters."""
