"""The second opinion: a plan held against its job by arithmetic of its own."""

from bayrun.audit.check import audit
from bayrun.audit.defects import KINDS, Defect
from bayrun.audit.reading import PlanError

__all__ = ["KINDS", "Defect", "PlanError", "audit"]
