"""Every member from the plan; bays; what lies over, under and beside a member."""
