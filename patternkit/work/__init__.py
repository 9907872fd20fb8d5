"""The making order: everything the maker is told, as data, before any of it is words or drawings."""
