"""The pages, one file each, listed by hand."""

from clothwright.web.page import STAGES, Page

PAGES: tuple[Page, ...] = (
    Page("start", "/", "Where do I begin?"),
    *(Page(stage.name, f"/b/{{book}}/{stage.name}", stage.question) for stage in STAGES),
    Page("add", "/b/{book}/add", "Add pattern pieces"),
    Page("seams", "/b/{book}/seams", "Which edges are sewn together?"),
    Page("body", "/b/{book}/body", "Which size am I?"),
    Page("toile", "/b/{book}/toile", "What did the trial garment show?"),
    Page("direct", "/b/{book}/direct", "What if I pull here?"),
    Page("cloth-photo", "/b/{book}/cloth/photo", "What does the photo say?"),
    Page("style", "/style", "What does it look like?"),
    Page("share", "/share", "How do I take it to another device?"),
    Page("enter", "/enter", "Is this your device?"),
)
"""Every page; the pages of stages in the order of the job. None is imported here (`Page.file`)."""
