"""How fast the workshop is, as ratios to something small that runs beside it: ``python -m tests.benchmarks``.

Milliseconds of one machine say nothing on another, and a busy one changes them from minute to minute. So each case is
run in turn with its measure, and the median of the ratios is what is told. The first run of each case is not counted:
it compiles, into a folder of its own and for both sides of the pair, as Python does on a knitter's machine (in a shell
that forbids it the compiler would be measured). pytest collects none of this.
"""
