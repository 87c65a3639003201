"""A PostgreSQL of one's own, in a folder that goes away with it: TLS by a certificate made for it, password by SCRAM."""

import glob
import os
import pwd
import shutil
import socket
import subprocess
import tempfile
from typing import List

import psycopg

USER, PASSWORD = "bench", "S3cret/ &:@?ü"
OPTIONS = ["fsync = off", "ssl = on", "ssl_cert_file = 'server.pem'", "ssl_key_file = 'server.key'", "listen_addresses = '127.0.0.1'",
           "max_connections = 40", "shared_buffers = 64MB", "max_wal_size = 2GB"]


class Database:
    """The server runs as another user where this one is root, who may not run it."""

    def __init__(self) -> None:
        self.folder = tempfile.mkdtemp(prefix="database-")
        self.name = "records"
        os.chmod(self.folder, 0o755)
        self.as_user: List[str] = []
        if os.getuid() == 0:
            owner = pwd.getpwnam("postgres")
            self.as_user = ["setpriv", "--reuid", str(owner.pw_uid), "--regid", str(owner.pw_gid), "--clear-groups"]
        self.programs = sorted(glob.glob("/usr/lib/postgresql/*/bin"), key=lambda path: int(path.split("/")[4]))[-1]
        self.data = os.path.join(self.folder, "data")
        os.mkdir(self.data, 0o700)
        password = os.path.join(self.folder, "password")
        with open(password, "w") as file:
            file.write(PASSWORD + "\n")
        if self.as_user:
            shutil.chown(self.data, "postgres")
        self.run("initdb", "-D", self.data, "-U", USER, "-A", "scram-sha-256", "--pwfile", password, "-E", "UTF8", "--locale", "C.UTF-8", "-N")
        self.root = self.certified()
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        with open(os.path.join(self.data, "postgresql.conf"), "a") as file:
            file.write("\n".join(OPTIONS + [f"port = {self.port}", f"unix_socket_directories = '{self.data}'"]) + "\n")
        self.start()
        self.ask("CREATE DATABASE records", database="postgres")

    def run(self, program: str, *words: str) -> None:
        done = subprocess.run([*self.as_user, os.path.join(self.programs, program), *words], capture_output=True, text=True, timeout=60, cwd="/")
        if done.returncode:
            raise SystemExit(f"{program} failed:\n{done.stdout}{done.stderr}")

    def certified(self) -> str:
        """A root, and a certificate that it signed for this server."""
        def openssl(*words: str) -> None:
            subprocess.run(["openssl", *words], check=True, capture_output=True, timeout=60, cwd=self.folder)
        key = ["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes"]
        for name in ("root", "other"):
            openssl("req", "-x509", *key, "-keyout", f"{name}.key", "-out", f"{name}.pem", "-subj", f"/CN={name}", "-days", "30")
        openssl("req", *key, "-keyout", "data/server.key", "-out", "server.req", "-subj", "/CN=localhost")
        with open(os.path.join(self.folder, "names"), "w") as file:
            file.write("subjectAltName = DNS:localhost\n")
        openssl("x509", "-req", "-in", "server.req", "-CA", "root.pem", "-CAkey", "root.key", "-CAcreateserial", "-days", "30",
                "-extfile", "names", "-out", "data/server.pem")
        os.chmod(os.path.join(self.data, "server.key"), 0o600)
        for name in ("server.key", "server.pem"):
            if self.as_user:
                shutil.chown(os.path.join(self.data, name), "postgres")
        return os.path.join(self.folder, "root.pem")

    def start(self) -> None:
        self.run("pg_ctl", "-D", self.data, "-w", "-l", os.path.join(self.data, "log"), "start")

    def restart(self) -> None:
        self.run("pg_ctl", "-D", self.data, "-w", "-m", "immediate", "-l", os.path.join(self.data, "log"), "restart")

    def how(self, database: str = "") -> dict:
        return {"host": self.data, "port": self.port, "user": USER, "password": PASSWORD, "dbname": database or self.name}

    def ask(self, sql: str, *values: object, database: str = "") -> list:
        with psycopg.connect(**self.how(database), autocommit=True) as one:
            asked = one.execute(sql, values or None)
            return asked.fetchall() if asked.description else []

    def close(self) -> None:
        try:
            self.run("pg_ctl", "-D", self.data, "-w", "-m", "immediate", "stop")
        finally:
            shutil.rmtree(self.folder)
