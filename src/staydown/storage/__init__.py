"""What stands in the files?

In: the job's folder, the logbook, the card library as files.
Out: the records of job, evidence and library; findings for every mistake.
"""
