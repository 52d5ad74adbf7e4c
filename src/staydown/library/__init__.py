"""Which numbers does the trade already have?

In: nothing but the foundation.
Out: cards (surfaces, tape classes, item kinds, materials, colours, fasteners, planning values), each number
with unit, source and basis. The TOML files beside this page hold them; `storage` reads them.
"""
