import pytest

pytest.register_assert_rewrite("tests.published.kinds", "tests.published.ranges", "tests.published.sums")
