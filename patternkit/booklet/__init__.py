"""The booklet: what a pattern says to whoever sews it, as a document."""
