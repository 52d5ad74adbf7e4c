"""What do you want done?

In: a job's folder and what the person typed, from any door; the present moment.
Out: the records that answer it; files and entries written where that was asked for.
"""
