"""Sentences of the page beside those that it shares with the report."""

from __future__ import annotations

BEING_DRAWN = "The drawing is current. Timber, joints, what tips and the water are being worked out…"
BEING_RUN = "Weight, timber, joints and what tips are current. The water is being run…"
WATER_LATER = "The water is being run; what it does is not known yet."
CURRENT = "All figures are those of the file as it is now."
PARTLY_SHORT = "{short} of the {total} checks without water come out short so far."
NO_JOINT = "No joint is described, so none could be checked."
CONFLICT = (
    "This file was changed elsewhere since this page was loaded: in another tab, or by another program. Nothing was overwritten. "
    "What you see now is the file as it is."
)
NOT_TAKEN = "What you had typed here, and is not in the file:"
STRAY = "Typed earlier, and not in the file as it is now:"
WRONG_FILE = "The file has faults. Mend them in its text; the steps of the form come back as soon as it is right."
KEPT_BESIDE = (
    "What is marked is not in the file yet; it is kept beside it until it is right, also if you close this page."
)
NOTHING_BACK = "There is nothing to take back."
CHANGED_SINCE = "The file was changed elsewhere since the last change that was made here; that is not taken back."
SAVED_AT_ONCE = "Everything that is right goes into the file at once."
DOES_NOT_FIT = "These do not go together, or cannot be built as they are: choose others."
ONE_OF_A_KIND = "Of the measures of one kind only one can be chosen: {first} or {second}."
PUT_IN = "Put into the file: {what}."
SHOPPING = "Shopping list"
NO_MEASURES = "Nothing that the tool knows of would help here, or nothing is short."
TRIED = "With what is switched on:"
SEARCHING = "Searching: {what}, {done} of {of}."
SEARCH_BEGINS = "Searching: the installation as it stands."
SEARCH_OLD = "These plans are for the file as it was; it has changed since. Search again."
SEARCH_FAILED = "The search broke off: {why}"
SEARCH_STOPPED = "The search was stopped."
NO_PLAN = "There is no plan: no measure makes anything better."
NO_SUCH_PAGE = "There is no such page."
FAULT = "A fault of ours, not of your file: {what}"
ASK = "Whether it may stand as it is, a licensed structural engineer and the local building code decide."
DRY_FLOOR = "The floor is dry."
