"""What do we know about this bond?

In: coupons, claims, typed ratios and links.
Out: coupons grouped by tape, surface and mode (spoiled ones apart), and the chain of links with what knows each.
"""
