"""Published equations on SI floats and arrays; one equation, one function."""
