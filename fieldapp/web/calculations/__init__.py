"""The desk's calculation pages: forms, pictures and sheets, all from declarations.

A calculation is known only by what `fieldapp.calc.catalogue` declares of it; only its
picture is its own. The pages compute nothing and approve nothing.
"""
