"""Whether a request may come in: through the door, from a page of ours, and while there is room."""

from __future__ import annotations

from urllib.parse import urlsplit

import tornado.web
from tornado.httputil import HTTPServerRequest

from visual.host.endpoints import MOST_OF_ONE, Endpoint
from visual.host.viewers import Audience

FULL, FULL_FROM_THERE, FULL_OF_YOURS = "Full", "Full From There", "Full Of Yours"


def turn_away(handler: tornado.web.RequestHandler) -> str | None:
    """Refuse the request if the door does, and give a visitor without a seat one; returns the visitor."""
    endpoint: Endpoint = handler.settings["endpoint"]
    door, seat = endpoint.door, handler.get_cookie("seat")
    refusal = door.refusal(handler.request, seat)
    if refusal is not None:
        raise tornado.web.HTTPError(refusal)
    if door.visitor(seat) is None:
        seat = door.new_seat()
        if seat:  # for this path alone: browsers share cookies between ports
            handler.set_cookie("seat", seat, path=f"/{handler.request.path.split('/')[1]}", httponly=True, samesite="Lax")
    return door.visitor(seat)


def turn_away_more(handler: tornado.web.RequestHandler, host: Audience, visitor: str | None) -> None:
    """Refuse one more page than the endpoint has room for: in all, from one address, or of one visitor."""
    endpoint, address = handler.settings["endpoint"], handler.request.remote_ip
    there = [viewer for viewer in host.viewers if viewer.role == endpoint.role]
    if len(there) >= endpoint.most:
        raise tornado.web.HTTPError(503, reason=FULL)
    if endpoint.of_one_address is not None and sum(viewer.address == address for viewer in there) >= endpoint.of_one_address:
        raise tornado.web.HTTPError(503, reason=FULL_FROM_THERE)
    if visitor is not None and sum(viewer.visitor == visitor for viewer in there) >= MOST_OF_ONE:
        raise tornado.web.HTTPError(503, reason=FULL_OF_YOURS)


def from_own_page(origin: str, request: HTTPServerRequest) -> bool:
    """Whether a request comes from a page that this server has served."""
    try:
        return urlsplit(origin).netloc.lower() == request.headers.get("Host", "").lower()
    except ValueError:
        return False
