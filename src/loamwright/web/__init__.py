"""The workbench: a local web page over the workflow. `app.create_app` makes it, `serving` serves it.

Adding a page is adding a module to `web.pages`. Nothing here reads or writes a habitat file but
through `editing` and `workflow`, and nothing here computes: that is the engine processes' work.
"""
