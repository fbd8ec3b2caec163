"""Has records measured by the program alone, by Spark and by Dask; every answer must be the same, but for its line."""

import json
import subprocess
import sys
import threading
import time

PROGRAM, COUNT = sys.argv[1], int(sys.argv[2])
PARTS = 4
BROKEN = 10  # one record in so many has a brief that cannot be
TRIMS = ["8 x 10 in", "210 x 260 mm", "8.5 x 8.5 in"]
WORDS = ["Oona", "Zoë", "Łucja", "Søren", "Bảo"]


def record(number):
    trim = "none" if number % BROKEN == 7 else TRIMS[number % len(TRIMS)]
    copy = f"The lamp of Gull Point went out {number} nights ago, and only {WORDS[number % len(WORDS)]} has seen it.\n\n"
    draft = f"# {WORDS[number % len(WORDS)]}\n\n" + copy * (1 + number % 4)
    return json.dumps({"id": number, "brief": f"panel: {{ trim: {trim} }}", "draft": draft}, ensure_ascii=False)


def through(lines):
    """One process for many records; a thread feeds it, so that neither side waits for the other."""
    with subprocess.Popen([PROGRAM, "measure", "--records"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, env={}) as run:

        def feed():
            with run.stdin as into:
                into.writelines(line.encode() + b"\n" for line in lines)

        threading.Thread(target=feed, daemon=True).start()
        yield from (line.decode().rstrip("\n") for line in run.stdout)
    if run.returncode:
        raise RuntimeError(f"{PROGRAM} answered {run.returncode}")


def without_line(answer):
    """An answer as the record alone makes it: its line counts in the part that a process was given."""
    answer = json.loads(answer)
    del answer["line"]
    return answer


def told(name, start):
    seconds = time.time() - start
    print(f"{name}: {COUNT} records in {seconds:.1f} s, {COUNT / seconds:.0f} a second", flush=True)


def compared(name, work):
    start = time.time()
    answers = work()
    told(name, start)
    found = [without_line(answer) for answer in answers]
    wrong = sum(one != other for one, other in zip(found, WANTED, strict=True))
    if wrong:
        sys.exit(f"{name}: {wrong} answers are not those of the program alone")


LINES = [record(number) for number in range(COUNT)]
start = time.time()
ALONE = list(through(LINES))
told("alone", start)
WANTED = [without_line(answer) for answer in ALONE]
assert [answer["id"] for answer in WANTED] == list(range(COUNT)), "an answer is missing or out of its order"
assert all(("error" in answer) == (answer["id"] % BROKEN == 7) for answer in WANTED), "an error is missing or strange"

from pyspark.sql import SparkSession  # noqa: E402
import dask.bag  # noqa: E402
import pandas  # noqa: E402

start = time.time()
quiet = {"spark.ui.enabled": False, "spark.ui.showConsoleProgress": False, "spark.log.level": "ERROR"}
builder = SparkSession.builder.master("local[2]")
for key, value in quiet.items():
    builder = builder.config(key, value)
spark = builder.getOrCreate()
print(f"Spark {spark.version} started in {time.time() - start:.1f} s", flush=True)
parts = spark.sparkContext.parallelize(LINES, PARTS)
for turn in ["first", "again"]:
    compared(f"Spark, RDD.pipe, {turn}", lambda: parts.pipe(f"{PROGRAM} measure --records", checkCode=True).collect())


def frames(batches):
    for batch in batches:
        yield pandas.DataFrame({"answer": list(through(batch["value"]))})


frame = spark.createDataFrame([(line,) for line in LINES], "value string")
compared("Spark, mapInPandas", lambda: [row.answer for row in frame.mapInPandas(frames, "answer string").collect()])
spark.stop()

bag = dask.bag.from_sequence(LINES, npartitions=PARTS)
work = bag.map_partitions(lambda lines: list(through(lines)))
compared("Dask, a bag on threads", lambda: work.compute(scheduler="threads", num_workers=2))
