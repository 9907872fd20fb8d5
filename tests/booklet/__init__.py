"""The booklet's content: words, tables, accuracy, releases, templates, proof sheet."""
