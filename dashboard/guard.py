"""Who may talk to the dashboard: this machine only, and nothing from foreign pages."""

from __future__ import annotations

from collections.abc import Iterable
from urllib.parse import urlsplit

from flask import Flask, Response, abort, request

LOOPBACK_NAMES = frozenset({"127.0.0.1", "localhost", "::1"})
"""Host names a browser on this machine uses; any other name in the Host header is refused (DNS rebinding)."""

SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})


def host_name(netloc: str) -> str:
    """Return the host name of ``name:port`` in lower case, "" if it is not one."""
    try:
        return (urlsplit(f"//{netloc}").hostname or "").lower()
    except ValueError:
        return ""


def policy(script_hashes: Iterable[str]) -> str:
    """Return the content security policy: everything from this server, nothing framed, no foreign script."""
    scripts = " ".join(["'self'", *script_hashes])
    return "; ".join(
        [
            "default-src 'self'",
            f"script-src {scripts}",
            "style-src 'self' 'unsafe-inline'",  # plotly sets styles on the elements it draws
            "img-src 'self' data: blob:",
            "object-src 'none'",
            "base-uri 'self'",
            "form-action 'self'",
            "frame-ancestors 'none'",
        ]
    )


def guard(server: Flask, script_hashes: Iterable[str] = ()) -> None:
    """Refuse foreign hosts and origins, and send the security headers with every answer."""
    content_policy = policy(script_hashes)

    @server.before_request
    def refuse_foreign() -> None:
        if host_name(request.host) not in LOOPBACK_NAMES:
            abort(403, "The dashboard answers on this machine only.")
        if request.method in SAFE_METHODS:
            return
        origin = request.headers.get("Origin")
        foreign_page = request.headers.get("Sec-Fetch-Site", "same-origin") not in ("same-origin", "none")
        if foreign_page or (origin is not None and urlsplit(origin).netloc != request.host):
            abort(403, "Changes are taken from the dashboard's own pages only.")

    @server.after_request
    def send_headers(response: Response) -> Response:
        response.headers["Content-Security-Policy"] = content_policy
        response.headers["X-Content-Type-Options"] = "nosniff"
        response.headers["X-Frame-Options"] = "DENY"
        response.headers["Referrer-Policy"] = "no-referrer"
        response.headers["Cross-Origin-Opener-Policy"] = "same-origin"
        response.headers["Cross-Origin-Resource-Policy"] = "same-origin"
        response.headers["Permissions-Policy"] = "camera=(), microphone=(), geolocation=()"
        return response
