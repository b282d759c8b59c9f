"""The catalogue: every layered voicing that makes a chord, ranked by how it lies under the hand.

`find` answers a `Query`; `catalogue` lists chord types whole. numpy comes in with this package, because one
step over thousands of voicings is what makes the catalogue immediate (tests/bench/bench_catalogue.py
measures it against the same search note by note); so import it where it is used.
"""
