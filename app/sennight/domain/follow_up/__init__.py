"""What was taken and what changed: diary, adherence, scores."""
