"""Every edit, gathered by hand: one record each, in a file for each thing that can be edited."""

from clothwright.workroom.editing.edit import Edit
from clothwright.workroom.editing.edits import (
    changes,
    cloths,
    pieces,
    pins,
    plans,
    rules,
    seams,
    wearer,
    whole,
)

EDITS: tuple[type[Edit], ...] = (
    changes.AddChange,
    changes.SetChange,
    changes.RemoveChange,
    changes.MoveChange,
    changes.SwitchChange,
    cloths.AddCloth,
    cloths.SetCloth,
    cloths.RemoveCloth,
    cloths.SetPicture,
    cloths.RemovePicture,
    plans.AddPlan,
    plans.SetPlan,
    plans.RemovePlan,
    plans.ChoosePlan,
    rules.AddRule,
    rules.SetRule,
    rules.RemoveRule,
    pins.PinShape,
    pins.UnpinShape,
    seams.AddSeam,
    seams.SetSeam,
    seams.RemoveSeam,
    pieces.AddPieces,
    pieces.RemovePiece,
    wearer.SetBody,
    wearer.SetChart,
    whole.SetUnit,
    whole.SetSettings,
    whole.RenameWorkbook,
    whole.SetNotes,
    whole.Several,
)
"""Every kind of edit."""
