"""The pages, one file each, listed by hand."""

from clothwright.web.page import Page
from clothwright.web.pages import (
    add,
    body,
    changes,
    cloth,
    cloth_photo,
    cut,
    devices,
    direct,
    pieces,
    plans,
    seams,
    sew,
    start,
    style,
    walk,
)

PAGES: tuple[Page, ...] = (
    start.PAGE,
    pieces.PAGE,
    add.PAGE,
    seams.PAGE,
    body.PAGE,
    changes.PAGE,
    direct.PAGE,
    walk.PAGE,
    cloth.PAGE,
    cloth_photo.PAGE,
    plans.PAGE,
    cut.PAGE,
    sew.PAGE,
    style.PAGE,
    devices.SHARE,
    devices.ENTER,
)
"""Every page; the pages of stages in the order of the job. A page that is not built is not here."""
