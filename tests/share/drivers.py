"""What fsspec can reach here: its own memory, a directory, an object store, a server for files.

The last two are servers of the test's own on the loopback.
"""

import threading
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import count
from pathlib import Path
from typing import Literal, get_args

import fsspec
from moto.server import ThreadedMotoServer

from sync.fsspec_folder import FsspecFolder
from sync.names import ROOT

Driver = Literal["memory://", "file://", "s3://", "ftp://"]
DRIVERS: tuple[Driver, ...] = get_args(Driver)
LOOPBACK = "127.0.0.1"
READ = "elr"
"""What a user may who may only read, in the server's letters."""
NAME = "wrenfall"
"""The bucket's, the user's, and what they sign in with."""

with warnings.catch_warnings():
    warnings.simplefilter("ignore", DeprecationWarning)  # its asyncore, in Python 3.11
    from pyftpdlib.authorizers import DummyAuthorizer
    from pyftpdlib.handlers import FTPHandler
    from pyftpdlib.servers import FTPServer


_numbers = count(1)


@contextmanager
def object_store() -> Iterator[FsspecFolder]:
    """Start an object store with one bucket, and give an empty folder in it."""
    server = ThreadedMotoServer(LOOPBACK, 0, verbose=False)
    server.start()
    host, port = server.get_host_and_port()
    options = {
        "key": NAME,
        "secret": NAME,
        "client_kwargs": {"endpoint_url": f"http://{host}:{port}"},
    }
    fsspec.filesystem("s3", **options).mkdirs(NAME, exist_ok=True)
    yield FsspecFolder(f"s3://{NAME}/{next(_numbers)}", **options)
    server.stop()


@contextmanager
def file_server(place: Path, *, may: str = "elradfmwMT") -> Iterator[FsspecFolder]:
    """Start a server for the files of a directory, and give that as a folder."""
    authorizer = DummyAuthorizer()
    authorizer.add_user(NAME, NAME, str(place), perm=may)
    handler = type("Handler", (FTPHandler,), {"authorizer": authorizer})
    server = FTPServer((LOOPBACK, 0), handler)
    serving = threading.Thread(target=server.serve_forever, kwargs={"timeout": 0.1}, daemon=True)
    serving.start()
    yield FsspecFolder(f"ftp://{LOOPBACK}:{server.address[1]}/", username=NAME, password=NAME)
    server.close_all()
    serving.join()


@contextmanager
def driven(driver: Driver, place: Path) -> Iterator[FsspecFolder]:
    """Give an empty shared folder that a driver of fsspec reaches."""
    if driver == "memory://":
        yield FsspecFolder(f"memory://{place}")
        return
    (place / ROOT).mkdir()
    if driver == "file://":
        yield FsspecFolder(f"file://{place}")
        return
    with object_store() if driver == "s3://" else file_server(place) as folder:
        yield folder
