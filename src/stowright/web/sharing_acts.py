"""Opening and shutting the shared door; only from this machine."""

from __future__ import annotations

from stowright.web.visitor import Event, Notice, Visitor

__all__ = ["ACTS"]


async def _share(visitor: Visitor, event: Event) -> None:
    porter = visitor.house.porter
    if not visitor.is_local or porter is None:
        return
    try:
        await porter.open(can_edit=bool(event.data.get("edit")))
    except OSError as error:
        visitor.notice = Notice(text=f"The network could not be opened: {error}", kind="wrong")
    await visitor.house.tell("")


async def _renew(visitor: Visitor, event: Event) -> None:
    if visitor.is_local:
        visitor.house.sharing.renew(can_edit=bool(event.data.get("edit")))
        await visitor.house.tell("")


async def _send_out(visitor: Visitor, event: Event) -> None:
    if not visitor.is_local:
        return
    begin = event.data.get("key", "")
    for key in list(visitor.house.sharing.guests):
        if begin and key.startswith(begin):
            visitor.house.sharing.send_out(key)
    await visitor.house.tell("")


async def _unshare(visitor: Visitor, _: Event) -> None:
    porter = visitor.house.porter
    if visitor.is_local and porter is not None:
        await porter.shut()
        visitor.notice = Notice(text="Sharing has ended; every device was sent out.")
        await visitor.house.tell("")


ACTS = {"share": _share, "renew": _renew, "send-out": _send_out, "unshare": _unshare}
