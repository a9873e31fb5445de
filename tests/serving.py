"""A host that is served while a test talks to it."""

from __future__ import annotations

import asyncio


def served(host, conversation, frame=lambda seconds: None, endpoint=None, patience=100):
    """Serve `host` while `conversation(port)` runs, `patience` s at the most, and return what that gives."""

    async def both():
        port = host.listen(0, endpoint=endpoint)
        serving = asyncio.create_task(host.run(frame))
        try:
            return await asyncio.wait_for(conversation(port), patience)
        finally:
            serving.cancel()

    return asyncio.run(both())
