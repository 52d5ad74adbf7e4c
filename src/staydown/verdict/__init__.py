"""Does it stay on?

In: what each mount carries, what is proven, the chain of links, the item's surface, retention and consequence.
Out: the use of what is proven for each case, band and mount, the chain with its weakest link, and one of four words
(NO, NOT PROVEN, GO WITH CONDITIONS, GO) with its reasons, conditions and what to find out next.
"""
