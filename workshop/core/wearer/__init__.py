"""From a body to finished measurements, and the cautions that go with them."""
