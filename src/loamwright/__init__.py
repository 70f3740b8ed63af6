"""loamwright: habitats for reptiles and amphibians, computed before they are built."""

__version__ = "0.1.0"
