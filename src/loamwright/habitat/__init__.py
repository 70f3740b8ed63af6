"""What is, or will be, built and who lives there: frozen dataclasses in SI units.

Lengths in metres, temperatures in kelvin, angles in radians, power in watts, time in seconds;
shares and relative humidity as fractions of one. Nothing here computes or reads a file.
Axes: x to the right, y from front to back, z up; origin at the inner front left floor corner.
"""
