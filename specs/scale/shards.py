"""Boards judged by the executors of a Spark cluster on this machine: shards.py [--kill] BOARDS
RECORDS COMMAND…

`RDD.pipe` hands each shard of the lines in BOARDS to a run of COMMAND, whose lines become a part
in the folder RECORDS. With `--kill`, the process of one executor is killed while it works: the
engine has to notice and to give its shard to another one.
"""

import os
import pathlib
import shlex
import signal
import sys
import tempfile
import threading
import time

import pyspark
from pyspark import SparkConf, SparkContext

# Two workers of one core and 1 GiB each.
CLUSTER = "local-cluster[2,1,1024]"
SHARDS = 16
# Killed when so many shards are done and both workers have one in hand.
DONE = 3
EXECUTOR = b"CoarseGrainedExecutorBackend"


def below(process):
    """The processes that a process has started, and those that they have started."""
    children = {}
    for entry in pathlib.Path("/proc").iterdir():
        if entry.name.isdigit():
            try:
                stat = (entry / "stat").read_text(encoding="utf-8")
            except OSError:
                continue  # it has ended meanwhile
            parent = int(stat.rsplit(")", 1)[1].split()[1])
            children.setdefault(parent, []).append(int(entry.name))
    found, open_ = [], [process]
    while open_:
        started = children.get(open_.pop(), [])
        found += started
        open_ += started
    return found


def executors():
    for process in below(os.getpid()):
        command = pathlib.Path(f"/proc/{process}/cmdline")
        if EXECUTOR in command.read_bytes():
            yield process


def kill_one(context, killed):
    """Waits until the work is under way, and kills an executor of ours."""
    tracker = context.statusTracker()
    while not killed:
        for stage in tracker.getActiveStageIds():
            info = tracker.getStageInfo(stage)
            if info and info.numCompletedTasks >= DONE and info.numActiveTasks >= 2:
                process = next(executors())
                os.kill(process, signal.SIGKILL)
                killed.append(process)
        time.sleep(0.02)


def main():
    arguments = sys.argv[1:]
    kill = arguments[0] == "--kill"
    boards, records, *command = arguments[kill:]
    boards, records = pathlib.Path(boards).resolve(), pathlib.Path(records).resolve()
    os.environ |= {
        "PYSPARK_PYTHON": sys.executable,
        "SPARK_HOME": str(pathlib.Path(pyspark.__file__).parent),
        "SPARK_LOCAL_IP": "127.0.0.1",
    }
    with tempfile.TemporaryDirectory() as folder:
        # The workers keep their files in the folder from which they are started.
        os.chdir(folder)
        conf = SparkConf().setMaster(CLUSTER).setAppName("boards")
        conf.set("spark.ui.enabled", "false").set("spark.ui.showConsoleProgress", "false")
        conf.set("spark.local.dir", folder)
        conf.set("spark.driver.host", "127.0.0.1").set("spark.driver.bindAddress", "127.0.0.1")
        context = SparkContext(conf=conf)
        context.setLogLevel("OFF")
        killed = []
        if kill:
            threading.Thread(target=kill_one, args=(context, killed), daemon=True).start()
        begun = time.monotonic()
        lines = context.textFile(boards.as_uri(), minPartitions=SHARDS)
        shards = lines.getNumPartitions()
        # An exit code other than 0 fails the shard, which the engine then tries again; what a
        # shard that failed had written does not count.
        lines.pipe(shlex.join(command), checkCode=True).saveAsTextFile(records.as_uri())
        seconds = time.monotonic() - begun
        failed = context.statusTracker().getStageInfo(0).numFailedTasks
        context.stop()
    killings = f", {len(killed)} executor killed, {failed} shard done again" if kill else ""
    print(f"      {shards} shards in {seconds:.1f} s without the cluster's start{killings}")
    if kill and not (killed and failed):
        sys.exit("no executor was killed while it had a shard")


main()
