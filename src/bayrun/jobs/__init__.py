"""The verbs of use: open, frame, route, check, count, draw. Each step runs alone with the same result."""

from bayrun.house import Job
from bayrun.jobs.plan import Plan, check, plan
from bayrun.jobs.session import Session

__all__ = ["Job", "Plan", "Session", "check", "plan"]
