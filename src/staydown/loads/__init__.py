"""What pulls on it?

In: a job, planning values.
Out: for each item a table of cases: name, season, exposure, the parts that act (force, place, factor), and the
sum in force and moment about the item's reference point, for the low, likely and high uplift coefficient.
"""
