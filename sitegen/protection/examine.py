"""The way through this stage: takes a job; gives tree, evidence, proof, findings and the verdict in one record."""

from __future__ import annotations

from dataclasses import dataclass

from ..job.records import Job
from ..protection.rules import find
from .evidence import Evidence
from .finding import Finding
from .proof import Proof
from .tree import Tree


@dataclass(frozen=True)
class Report:
    """All that is known of a job."""

    job: Job
    tree: Tree
    evidence: Evidence
    proof: Proof
    findings: tuple[Finding, ...]

    @property
    def ready(self) -> bool:
        """True when nothing stops the handover."""
        return not any(finding.level == "stop" for finding in self.findings)


def examine(job: Job) -> Report:
    """Derive the protection, hold it against the trip tests, and list what there is to say."""
    tree = Tree(job)
    evidence = Evidence(tree)
    proof = Proof(evidence)
    return Report(job, tree, evidence, proof, find(proof))
