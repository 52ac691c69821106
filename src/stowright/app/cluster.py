"""The client of a cluster, for more than one machine's worth of designs."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from stowright.errors import MissingExtraError

if TYPE_CHECKING:
    from stowright.explore.workers import Client

__all__ = ["cluster_client"]


def cluster_client(address: str) -> Client:
    """Return the client of the Dask scheduler at an address.

    Raises:
        MissingExtraError: If the extra ``dask`` is not installed.
        OSError: If nothing answers there.
    """
    try:
        distributed = import_module("dask.distributed")
    except ImportError as error:
        raise MissingExtraError("exploring on a cluster", "dask.distributed", "dask") from error
    client: Client = distributed.Client(address)
    return client
