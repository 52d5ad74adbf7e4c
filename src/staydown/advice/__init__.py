"""What would help most?

In: a job, the facts it rests on, its assessment.
Out: single changes that turn a word, tests worth making, what was assumed and what each assumption does to the use.
"""
