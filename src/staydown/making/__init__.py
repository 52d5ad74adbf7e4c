"""How is it bonded well?

In: the job's surface, bonding product and feet, the weather and the stock that a person typed.
Out: forces to press with, dew point, volumes to mix, the dwell clock, and the guide: numbered steps with stop points,
phase by phase, and what to buy.
"""
