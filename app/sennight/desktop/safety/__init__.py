"""What concerns safety on the screen: findings, reactions, red flags."""
