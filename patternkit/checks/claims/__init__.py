"""Rules for what a page says of its cutting and a pattern may claim: loaded only where a pattern claims some."""
