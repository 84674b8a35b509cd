"""Physical constants and exact conversion factors (SI per unit)."""

GRAVITY = 9.80665  # m/s², standard acceleration of gravity
WATER_DENSITY = 1000.0  # kg/m³, at 4 °C: the heaviest water

INCH = 0.0254
FOOT = 0.3048
POUND_MASS = 0.45359237
POUND_FORCE = POUND_MASS * GRAVITY
PSI = POUND_FORCE / INCH**2
PSF = POUND_FORCE / FOOT**2
POUND_PER_CUBIC_FOOT = POUND_MASS / FOOT**3
GALLON = 231 * INCH**3
LITRE = 0.001
