"""What people take away: queues, bays, hours, cautions. No arithmetic of its own."""
