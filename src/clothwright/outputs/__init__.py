"""From pictures to the outside: pages, drawings, guides."""
