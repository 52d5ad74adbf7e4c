"""What do I print?

In: records: an assessment, beliefs, cards.
Out: text for the terminal and the page, JSON; writes nothing.
"""
