"""A WebKitGTK window that WebDriver drives and whose profile outlives it: `webkit_window.py FOLDER`.

The MiniBrowser that comes with WebKitGTK keeps nothing in automation (its data manager is ephemeral there), so
nothing could be proven of a browser that was closed. This is the same engine, network process and web process,
with the profile in a folder. Called by its C names: the engine's own library is all it needs.
"""

import ctypes
import sys

gtk = ctypes.CDLL("libgtk-3.so.0")
webkit = ctypes.CDLL("libwebkit2gtk-4.1.so.0")
for made in (
    gtk.gtk_window_new,
    gtk.g_object_new,
    webkit.webkit_website_data_manager_new,
    webkit.webkit_web_context_new_with_website_data_manager,
    webkit.webkit_application_info_new,
):
    made.restype = ctypes.c_void_p
webkit.webkit_web_view_get_type.restype = ctypes.c_size_t

ON_SESSION = ctypes.CFUNCTYPE(None, ctypes.c_void_p, ctypes.c_void_p, ctypes.c_void_p)
ON_VIEW = ctypes.CFUNCTYPE(ctypes.c_void_p, ctypes.c_void_p, ctypes.c_void_p)
END = None


def pointer(address: int) -> ctypes.c_void_p:
    return ctypes.c_void_p(address)


def context_in(folder: str) -> int:
    """The engine's context, its data and cache below the folder, open to a driver."""
    manager = webkit.webkit_website_data_manager_new(
        b"base-data-directory",
        f"{folder}/data".encode(),
        b"base-cache-directory",
        f"{folder}/cache".encode(),
        END,
    )
    context: int = webkit.webkit_web_context_new_with_website_data_manager(pointer(manager))
    webkit.webkit_web_context_set_automation_allowed(pointer(context), 1)
    return context


def window(context: int) -> int:
    """A phone's window, 390 by 844, with an empty page in it; the page."""
    view: int = gtk.g_object_new(
        ctypes.c_size_t(webkit.webkit_web_view_get_type()),
        b"web-context",
        pointer(context),
        b"is-controlled-by-automation",
        1,
        END,
    )
    frame = gtk.gtk_window_new(0)
    gtk.gtk_window_set_default_size(pointer(frame), 390, 844)
    gtk.gtk_container_add(pointer(frame), pointer(view))
    gtk.gtk_widget_show_all(pointer(frame))
    return view


def main(folder: str) -> None:
    """Wait for the driver, and give it a window."""
    gtk.gtk_init(None, None)
    context = context_in(folder)

    @ON_VIEW
    def on_view(_session: int, _data: int) -> int:
        return window(context)

    @ON_SESSION
    def on_session(_context: int, session: int, _data: int) -> None:
        info = webkit.webkit_application_info_new()
        webkit.webkit_application_info_set_name(pointer(info), b"MiniBrowser")
        webkit.webkit_automation_session_set_application_info(pointer(session), pointer(info))
        gtk.g_signal_connect_data(pointer(session), b"create-web-view", on_view, None, None, 0)

    gtk.g_signal_connect_data(pointer(context), b"automation-started", on_session, None, None, 0)
    gtk.gtk_main()


if __name__ == "__main__":
    main(sys.argv[-1])
