"""A display that nobody sees: Xvfb on a free number, keys struck by xdotool, what it shows read from Xvfb's own memory.
Everything is ended by the process that was started."""

import contextlib
import ctypes
import os
import pathlib
import struct
import subprocess
import time
import zlib


def until(condition, seconds=20, what=""):
    """The first answer of `condition` that counts as true, asked again and again."""
    end = time.monotonic() + seconds
    while not (answer := condition()):
        if time.monotonic() > end:
            raise AssertionError(f"not within {seconds} s: {what or condition}")
        time.sleep(0.02)
    return answer


class Image:
    """Rows from the top, three bytes a pixel: red, green, blue."""

    def __init__(self, width, height, rows):
        self.width, self.height, self.rows = width, height, rows

    def __eq__(self, other):
        return (self.width, self.height, self.rows) == (other.width, other.height, other.rows)

    def part(self, left, top, width, height):
        return Image(width, height, [row[3 * left : 3 * (left + width)] for row in self.rows[top : top + height]])

    def colours(self):
        return {row[i : i + 3] for row in self.rows for i in range(0, len(row), 3)}


def read_png(path):
    """Eight bits, red, green and blue, not interlaced: by the PNG specification (ISO/IEC 15948:2004), sections 5, 9."""
    data = pathlib.Path(path).read_bytes()
    if data[:8] != b"\x89PNG\r\n\x1a\n":
        raise AssertionError(f"{path} is no PNG")
    chunks, at = [], 8
    while at < len(data):
        length = struct.unpack_from(">I", data, at)[0]
        kind, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        if zlib.crc32(kind + body) != struct.unpack_from(">I", data, at + 8 + length)[0]:
            raise AssertionError(f"{path}: the check sum of {kind} is wrong")
        chunks.append((kind, body))
        at += 12 + length
    width, height, *form = struct.unpack(">IIBBBBB", chunks[0][1])
    if form != [8, 2, 0, 0, 0]:
        raise AssertionError(f"{path} is another form of PNG: {form}")
    raw = zlib.decompress(b"".join(body for kind, body in chunks if kind == b"IDAT"))
    stride, rows, above = 3 * width, [], bytes(3 * width)
    for y in range(height):
        start = y * (stride + 1)
        above = unfiltered(raw[start], bytearray(raw[start + 1 : start + 1 + stride]), above)
        rows.append(above)
    return Image(width, height, rows)


def unfiltered(kind, row, above):
    for i, value in enumerate(row if kind else b""):
        left = row[i - 3] if i >= 3 else 0
        up, corner = above[i], above[i - 3] if i >= 3 else 0
        if kind == 4:  # Paeth: whichever is nearest to left + up - corner
            middle = left + up - corner
            guess = min((left, up, corner), key=lambda near: abs(middle - near))
        else:
            guess = (0, left, up, (left + up) // 2)[kind]
        row[i] = (value + guess) & 255
    return bytes(row)


class XClientMessage(ctypes.Structure):
    _fields_ = [("type", ctypes.c_int), ("serial", ctypes.c_ulong), ("send_event", ctypes.c_int),
                ("display", ctypes.c_void_p), ("window", ctypes.c_ulong), ("message_type", ctypes.c_ulong),
                ("format", ctypes.c_int), ("data", ctypes.c_long * 5), ("rest", ctypes.c_long * 24)]


class Display:
    def __init__(self, folder, *options, size=(1400, 900)):
        """`folder` is where the memory of the display is kept, and the settings of whoever works there."""
        self.folder = folder
        read, write = os.pipe()
        self.memory = pathlib.Path(folder) / "Xvfb_screen0"
        screen = f"{size[0]}x{size[1]}x24"
        self.process = subprocess.Popen(
            ["Xvfb", "-displayfd", str(write), "-screen", "0", screen, "-fbdir", folder, "-nolisten", "tcp",
             "-noreset", "-nocursor", *options],
            pass_fds=[write], stderr=subprocess.DEVNULL)
        os.close(write)
        with os.fdopen(read) as number:  # ends when Xvfb does, so that a wrong start is noticed
            self.name = ":" + number.readline().strip()
        if self.name == ":":
            raise AssertionError("Xvfb did not start")

    def close(self):
        self.process.terminate()
        self.process.wait()

    def environment(self, **more):
        without = {key: value for key, value in os.environ.items() if key != "WAYLAND_DISPLAY"}
        return without | {"DISPLAY": self.name, "XDG_CONFIG_HOME": f"{self.folder}/settings"} | more

    def xdotool(self, *words):
        done = subprocess.run(["xdotool", *words], env=self.environment(), capture_output=True, text=True, check=False)
        return done.stdout.split()

    def window_of(self, process):
        """The number of the window that a program shows, once it does."""
        def found():
            if process.poll() is not None:
                raise AssertionError(f"ended with {process.returncode}: {process.stderr.read()}")
            return self.xdotool("search", "--onlyvisible", "--name", "^Witnessmark$")
        return until(found, what="a window")[0]

    def shown(self, window):
        """What the display shows where the window is. The memory has the form of an X window dump, version 7 (from
        memory of its header: 25 numbers of 4 bytes, the most significant first, then the colours)."""
        data = self.memory.read_bytes()
        head = struct.unpack_from(">25I", data)
        start, stride, colours = head[0], head[12], head[19]
        where = dict(line.split("=") for line in self.xdotool("getwindowgeometry", "--shell", window) if "=" in line)
        left, top, width, height = (int(where[name]) for name in ("X", "Y", "WIDTH", "HEIGHT"))
        rows = []
        for y in range(top, top + height):
            at = start + 12 * colours + y * stride + 4 * left
            row = data[at : at + 4 * width]  # blue, green, red and nothing
            mixed = bytearray(3 * width)
            mixed[0::3], mixed[1::3], mixed[2::3] = row[2::4], row[1::4], row[0::4]
            rows.append(bytes(mixed))
        return Image(width, height, rows)

    def ask_to_close(self, window):
        """As the cross in a window's frame does."""
        x11 = ctypes.CDLL("libX11.so.6")
        x11.XOpenDisplay.restype = ctypes.c_void_p
        x11.XInternAtom.restype = ctypes.c_ulong
        server = ctypes.c_void_p(x11.XOpenDisplay(self.name.encode()))
        atom = lambda name: x11.XInternAtom(server, name, 0)
        message = XClientMessage(type=33, window=int(window), message_type=atom(b"WM_PROTOCOLS"), format=32)
        message.data[0] = atom(b"WM_DELETE_WINDOW")
        x11.XSendEvent(server, ctypes.c_ulong(int(window)), 0, ctypes.c_long(0), ctypes.byref(message))
        x11.XCloseDisplay(server)

    def drop(self, window, uris):
        """Files dropped on a window, as a file manager does it: drag-and-drop protocol for X, version 5
        (freedesktop.org)."""
        x11 = ctypes.CDLL("libX11.so.6")
        for name in ("XOpenDisplay", "XInternAtom", "XCreateSimpleWindow", "XDefaultRootWindow"):
            getattr(x11, name).restype = ctypes.c_void_p
        server = ctypes.c_void_p(x11.XOpenDisplay(self.name.encode()))
        atom = lambda name: x11.XInternAtom(server, name, 0)
        root = ctypes.c_ulong(x11.XDefaultRootWindow(server))
        source = x11.XCreateSimpleWindow(server, root, 0, 0, 1, 1, 0, ctypes.c_ulong(0), ctypes.c_ulong(0))
        target, kind = ctypes.c_ulong(int(window)), atom(b"text/uri-list")
        x11.XSetSelectionOwner(server, ctypes.c_ulong(atom(b"XdndSelection")), ctypes.c_ulong(source), ctypes.c_ulong(0))

        def tell(name, *data):
            words = list(data) + [0] * (5 - len(data))
            message = XClientMessage(type=33, window=int(window), message_type=atom(name), format=32)
            message.data[:] = words
            x11.XSendEvent(server, target, 0, ctypes.c_long(0), ctypes.byref(message))
            x11.XFlush(server)

        # An event as 24 numbers: kind, serial, sent, server, then what it tells.
        event = (ctypes.c_long * 24)()

        def wait_for(number):
            def there():
                while x11.XPending(server):
                    x11.XNextEvent(server, event)
                    if event[0] & 0xFFFFFFFF == number:
                        return True
                return False
            until(there, what=f"event {number} of the drop")

        tell(b"XdndEnter", source, 5 << 24, kind)
        tell(b"XdndPosition", source, 0, (300 << 16) | 300, 0, atom(b"XdndActionCopy"))
        wait_for(33)  # its status
        tell(b"XdndDrop", source)
        wait_for(30)  # it asks for the names
        requestor, selection, wanted, place, when = event[5:10]
        names = "".join(uri + "\r\n" for uri in uris).encode()
        x11.XChangeProperty(server, ctypes.c_ulong(requestor), ctypes.c_ulong(place), ctypes.c_ulong(wanted), 8, 0,
                            names, len(names))
        answer = (ctypes.c_long * 24)(31, 0, 0, 0, requestor, selection, wanted, place, when)
        x11.XSendEvent(server, ctypes.c_ulong(requestor), 0, ctypes.c_long(0), answer)
        x11.XFlush(server)
        wait_for(33)  # it has them
        x11.XCloseDisplay(server)


@contextlib.contextmanager
def running(command, environment):
    """The program while the block lasts."""
    process = subprocess.Popen(command, env=environment, stderr=subprocess.PIPE, text=True)
    try:
        yield process
    finally:
        process.kill()
        process.wait()
        process.stderr.close()
