"""Plans: how cloth is cut and how seams are pressed."""
