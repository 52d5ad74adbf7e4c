"""Which mount carries how much?

In: an item with its mounts and tape, and the table of its cases.
Out: for each case, band and mount the force and moment that the item puts on it, mean and peak tension,
shear, line load, and which way of connecting item and foot (clamped or hinged) was the worse.
"""
