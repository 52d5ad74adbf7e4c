"""What do all rooms share?

In: nothing.
Out: numbers that know their source, laws, quantities and units, exposures, findings, errors.
"""
