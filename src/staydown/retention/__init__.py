"""What if the mounts let go: is there something else that keeps the item on the vehicle?

In: the load cases, the movement from heat, the tethers of the job (material, stiffness, slack, strengths, anchor).
Out: for each tether its steady and its snatch load, what line and anchor would need, the slack that works, whether
it is independent of the bond and enough; and, where none is, what a tether would have to be.
"""
