"""How fast the workshop is, as ratios to something small that runs beside it: ``python -m tests.benchmarks``.

Milliseconds of one machine say nothing on another, and a busy one changes them from minute to minute. So each case is
run in turn with its measure, and the median of the ratios is what is told. pytest collects none of this.
"""
