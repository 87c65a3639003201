"""A way to a server that is cut after so many bytes, in either direction."""

import socket
import threading


class Way:
    """Listens on a port of its own; each connection through it lives for `bytes_left` bytes."""

    def __init__(self, port: int) -> None:
        self.to = port
        self.bytes_left = 1 << 60
        self.cuts = 0
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.port = self.listener.getsockname()[1]
        threading.Thread(target=self.accept, daemon=True).start()

    def accept(self) -> None:
        while True:
            near, _ = self.listener.accept()
            try:
                far = socket.create_connection(("127.0.0.1", self.to))
            except OSError:
                near.close()
                continue
            left, lock = [self.bytes_left], threading.Lock()
            for one, other in ((near, far), (far, near)):
                threading.Thread(target=self.carry, args=(one, other, left, lock), daemon=True).start()

    def carry(self, one: socket.socket, other: socket.socket, left: list, lock: threading.Lock) -> None:
        try:
            while True:
                some = one.recv(1 << 16)
                with lock:
                    was, left[0] = left[0], left[0] - len(some)
                    if 0 <= was < len(some):
                        self.cuts += 1
                if not some:
                    break
                other.sendall(some[: max(was, 0)])
                if was < len(some):
                    break
        except OSError:
            pass
        for end in (one, other):
            try:
                end.shutdown(socket.SHUT_RDWR)
            except OSError:
                pass
