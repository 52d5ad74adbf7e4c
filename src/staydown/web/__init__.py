"""How does a person do all this without a terminal?

In: a folder or none, a port, whether the phone may come in.
Out: pages on this machine over the same use cases as the commands; no arithmetic in them.
"""
