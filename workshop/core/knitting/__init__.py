"""While it is being knitted: what the needles say, held against the plan. What has been knitted is a fact."""
