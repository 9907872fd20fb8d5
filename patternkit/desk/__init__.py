"""The desk: where files, commands and reports are handled."""
