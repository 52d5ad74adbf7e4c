"""Does it still stay on?

In: what the logbook says was bonded, looked at and gone through, the assessment, the day.
Out: what must be looked at before the verdict counts, what is due and when, proof pulls that do no harm, what to do
when a foot has let go, and how a foot comes off again.
"""
