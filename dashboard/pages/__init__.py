"""One screen each: the layout above, thin callbacks below, no arithmetic."""
