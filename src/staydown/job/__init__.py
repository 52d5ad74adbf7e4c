"""What is on the roof and how does it travel?

In: nothing but the foundation; the values a person typed, already in SI.
Out: the frozen records of a job, and findings about what contradicts itself in them.
"""
