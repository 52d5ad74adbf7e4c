"""What did you ask for on the command line?

In: the words typed.
Out: one call of the workbench, its answer printed, an exit code. One file a command; no arithmetic.
"""
