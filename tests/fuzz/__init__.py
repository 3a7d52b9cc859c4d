"""Every byte that comes from outside, spoiled: refused clearly, nothing altered."""
