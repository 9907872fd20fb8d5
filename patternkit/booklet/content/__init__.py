"""The content of the booklet, section by section."""
