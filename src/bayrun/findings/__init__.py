"""What a rule, a plan or a file says to a person: findings, fixes and sources. Records only."""

from bayrun.findings.records import Finding, Fix, Severity, Source

__all__ = ["Finding", "Fix", "Severity", "Source"]
