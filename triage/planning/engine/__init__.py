"""The search below the seam: columns, pricing, bound, neighbourhood search, child processes."""
