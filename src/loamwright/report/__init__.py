"""Results shown to people: terminal, pictures, pages."""
