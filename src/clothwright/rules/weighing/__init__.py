"""A plan laid, what is weighed about it, what makes it fit, and how much cloth to buy."""
