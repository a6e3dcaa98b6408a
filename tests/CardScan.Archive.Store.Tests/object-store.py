"""OpenStack's object store with its S3 interface, whole in one process and one folder, on this machine alone; for tests.

Arguments: folder, port, a file with certificate and key (none: no TLS). The user is "workshop:keeper", its key "quite-secret".
Prints "ready" when it answers. Ends, and takes its folder along, when whoever started it has ended.
"""
import array
import os
import shutil
import sys

import eventlet
eventlet.monkey_patch()
from eventlet import wsgi  # noqa: E402
from paste.deploy import loadapp  # noqa: E402
from swift.common import utils  # noqa: E402

FOLDER, PORT = sys.argv[1], int(sys.argv[2])
STARTER = os.getppid()
CERTIFICATE = sys.argv[3] if len(sys.argv) > 3 else None


def write(name, text):
    path = os.path.join(FOLDER, name)
    with open(path, "w") as file:
        file.write(text)
    return path


os.makedirs(os.path.join(FOLDER, "disk", "d1", "tmp"), exist_ok=True)
utils.SWIFT_CONF_FILE = write("swift.conf", """
[swift-hash]
swift_hash_path_suffix = of-these-tests
[storage-policy:0]
name = one
default = yes
""")
utils.validate_configuration()
from swift.common.ring import RingData  # noqa: E402
from swift.common.storage_policy import reload_storage_policies  # noqa: E402
reload_storage_policies()

silent = type("Silent", (), {"write": lambda self, text: None, "flush": lambda self: None})()


def serve(app, listener):
    eventlet.spawn(wsgi.server, listener, app, silent, socket_timeout=30)


for kind in ("account", "container", "object"):
    listener = eventlet.listen(("127.0.0.1", 0))
    device = {"id": 0, "region": 1, "zone": 1, "ip": "127.0.0.1", "port": listener.getsockname()[1],
              "replication_ip": "127.0.0.1", "replication_port": listener.getsockname()[1], "device": "d1", "weight": 1.0}
    RingData([array.array("H", [0])], [device], 32).save(os.path.join(FOLDER, kind + ".ring.gz"))
    serve(loadapp("config:" + write(kind + ".conf", f"""
[app:main]
use = egg:swift#{kind}
devices = {FOLDER}/disk
mount_check = false
disable_fallocate = true
swift_dir = {FOLDER}
""")), listener)


class Forgetful:
    """Stands where the store would share answers with others of its kind; there are none."""

    def __getattr__(self, name):
        return lambda *args, **kwargs: None


def proxied(environ, start):
    environ["swift.cache"] = Forgetful()
    return proxy(environ, start)


front = eventlet.listen(("127.0.0.1", PORT))
if CERTIFICATE:
    front = eventlet.wrap_ssl(front, certfile=CERTIFICATE, keyfile=CERTIFICATE, server_side=True)
proxy = loadapp("config:" + write("proxy.conf", f"""
[pipeline:main]
pipeline = catch_errors gatekeeper listing_formats s3api tempauth copy proxy-server

[filter:catch_errors]
use = egg:swift#catch_errors
[filter:gatekeeper]
use = egg:swift#gatekeeper
[filter:listing_formats]
use = egg:swift#listing_formats
[filter:copy]
use = egg:swift#copy
[filter:s3api]
use = egg:swift#s3api
allow_multipart_uploads = false
location = us-east-1
auth_pipeline_check = true
[filter:tempauth]
use = egg:swift#tempauth
user_workshop_keeper = quite-secret .admin

[app:proxy-server]
use = egg:swift#proxy
account_autocreate = true
swift_dir = {FOLDER}
"""))
serve(proxied, front)
print("ready", flush=True)
while os.getppid() == STARTER:
    eventlet.sleep(1)
shutil.rmtree(FOLDER, ignore_errors=True)
os._exit(0)
