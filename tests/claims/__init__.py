"""What pages print of their cutting, claimed in a pattern and held against it."""
