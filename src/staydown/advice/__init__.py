"""What would help most?

In: a job, the facts it rests on, its assessment.
Out: changes that turn a word, alone or two together, tests worth making, what was assumed and what each assumption does
to the use.
"""
