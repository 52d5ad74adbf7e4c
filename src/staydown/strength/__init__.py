"""How much can a bond carry, for how long, at what temperature?

In: coupons of one tape and surface, the card of the tape's class, exposures. Never a force, never a trip.
Out: beliefs about the rupture law, lower bounds of strength, how far each is covered by tests.
"""
