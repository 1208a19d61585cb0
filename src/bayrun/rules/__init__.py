"""What the adopted codes and good practice ask of a plan: one rule a file, findings with fixes."""

from bayrun.rules.catalogue import RULES, Rule, check_all, print_catalogue, rule_slugs

__all__ = ["RULES", "Rule", "check_all", "print_catalogue", "rule_slugs"]
