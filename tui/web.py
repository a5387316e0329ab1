"""The full screen in a browser. Imported only by `wellward serve`: it needs the extra `web`."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from aiohttp import web
from textual_serve.server import Server

from tui.cli.serve import trusted

PAGE = Path(__file__).parent / "web_page"
"""Our own page round the terminal: it asks nothing of another site, which would tell that site who looks."""

_ONLY_FROM_HERE = "style-src 'self' 'unsafe-inline'; font-src 'self' data:; frame-ancestors 'none'"
"""And were it to ask, it would get no answer; no other page may frame it."""


class WellwardServer(Server):
    """One program a tab, refused to pages of other sites."""

    async def _make_app(self) -> web.Application:
        app = await super()._make_app()

        @web.middleware  # type: ignore[untyped-decorator, unused-ignore]
        async def refuse_strangers(request: Any, handler: Any) -> Any:  # noqa: ANN401  of the extra
            if not trusted(self.host, request.headers.get("Host", ""), request.headers.get("Origin")):
                raise web.HTTPForbidden(text="wellward answers only its own page.")
            return await handler(request)

        app.middlewares.append(refuse_strangers)
        return app

    async def handle_index(self, request: Any) -> Any:  # noqa: ANN401  of the extra
        """The page; its links lead to the address by which it was asked for, since 0.0.0.0 leads nowhere."""
        self.public_url = f"http://{request.host}"
        page = await super().handle_index(request)
        page.headers["Content-Security-Policy"] = _ONLY_FROM_HERE
        return page

    async def on_startup(self, app: web.Application) -> None:
        """Say where it is."""
        at = f"[{self.host}]" if ":" in self.host else self.host
        print(f"wellward is at http://{at}:{self.port} . ctrl+c stops it.", flush=True)


def serve_screens(command: str, host: str, port: int) -> None:
    """Serve until ctrl+c.

    Raises:
        OSError: the address or port cannot be had.
    """
    WellwardServer(command, host=host, port=port, title="wellward", templates_path=PAGE).serve()
