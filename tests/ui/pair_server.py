"""A shared server process for the tests: the real `serve` over a shop file, beyond this machine."""

import sys
from pathlib import Path

from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from inspect_app.store import create_shop_file, open_shop_file
from inspect_app.ui.serve import serve
from inspect_app.ui.shelf import Shelf
from inspect_app.ui.shop_sessions import ShopSessions

if __name__ == "__main__":
    folder, named, *port = sys.argv[1:]
    path = Path(folder) / "shop.sqlite"
    with open_shop_file(path) if path.exists() else create_shop_file(path) as shop:
        serve(
            Shelf(shop, lambda: load_rulebook(shipped("rules"))),
            int(port[0]) if port else None,
            extra_hosts=[named],
            share=True,
            sessions=ShopSessions(shop),
        )
