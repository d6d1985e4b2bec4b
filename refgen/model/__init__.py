"""The kinds of record, described field by field; the folder's name is the kind."""

from __future__ import annotations

from refgen.model.equipment import Hose, Nozzle, Part, Pattern
from refgen.model.lookup import Table
from refgen.model.machines import Machine
from refgen.model.pipes import Deposit, Material
from refgen.model.record import Record
from refgen.model.safety import Hazard
from refgen.model.teaching import Lesson, Source, Term
from refgen.model.trouble import Path, Symptom
from refgen.model.work import Checklist, Procedure

# In the order in which a reader is offered them.
KINDS: dict[str, type[Record]] = {
    record.kind: record
    for record in (
        Symptom,
        Path,
        Procedure,
        Material,
        Deposit,
        Pattern,
        Nozzle,
        Hose,
        Machine,
        Part,
        Table,
        Hazard,
        Checklist,
        Lesson,
        Term,
        Source,
    )
}
