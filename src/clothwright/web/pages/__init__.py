"""The pages, one file each, listed by hand."""

from clothwright.web.page import Page
from clothwright.web.pages import cloth, devices, pieces, plans, sew, start, style

PAGES: tuple[Page, ...] = (
    start.PAGE,
    pieces.PAGE,
    cloth.PAGE,
    plans.PAGE,
    sew.PAGE,
    style.PAGE,
    devices.SHARE,
    devices.ENTER,
)
"""Every page; the pages of stages in the order of the job. A page that is not built is not here."""
