"""A plain twin of part of the model: one Mesa object an insect, in ordinary Python, for checking and timing the engine.

It knows cabbage white, its parasitoid wasp, generalist enemies and birds (by the risk that the garden's own actors
write), nets and sprays. Its rules are written afresh from what the model says of itself; nothing of ``sim.insects`` is
called but the names of questions and the layout of parameters that other actors ask for.
"""
