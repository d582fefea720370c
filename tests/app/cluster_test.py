"""A study in slices on an existing scheduler: Slurm on this one machine, and GNU parallel. Usage:
cluster_test.py PATH_OF_trammel"""
import os
import pathlib
import pwd
import re
import shutil
import socket
import subprocess
import time
import unittest

from program_case import PROGRAM, SOURCE, TRAIL, Case, committed, environment, files_of

CLUSTER = SOURCE / "scripts" / "cluster"
UNITS = 6
TASKS = 4


def free_ports(count):
    sockets = [socket.socket() for _ in range(count)]
    for s in sockets:
        s.bind(("127.0.0.1", 0))
    ports = [s.getsockname()[1] for s in sockets]
    for s in sockets:
        s.close()
    return ports


class ClusterCase(Case):
    def gathered_is_whole(self, out):
        """The slices joined are the study that ran in one go."""
        parts = sorted(pathlib.Path(out).glob("slice-*"))
        self.assertEqual(len(parts), TASKS)
        self.assertEqual(sum(committed(part) for part in parts), UNITS)
        self.run_it("gather", *parts, "--out", "all")
        (self.folder / "straight").mkdir()
        whole = self.search("straight/all", "--units", UNITS)
        self.assertEqual(self.digest("all"), self.digest(whole))
        self.assertEqual(files_of(self.folder / "all"), files_of(whole))


class Slurm(ClusterCase):
    def setUp(self):
        super().setUp()
        if os.geteuid() != 0:
            self.skipTest("SKIP: the daemons of Slurm can be started by root only")
        self.folder.chmod(0o755)
        self.start_munge()
        self.start_slurm()

    def daemon(self, *command, **options):
        """A daemon in the foreground, ended with the test by its own id."""
        log = open(self.folder / f"{pathlib.Path(command[0]).name}.out", "wb")
        process = subprocess.Popen(command, stdout=log, stderr=subprocess.STDOUT, env=self.env(), **options)
        log.close()

        def end():
            process.terminate()
            try:
                process.wait(timeout=20)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()
        self.addCleanup(end)
        return process

    def env(self):
        return {**{k: v for k, v in environment().items() if not k.startswith(("SLURM_", "SBATCH_"))},
                "SLURM_CONF": str(self.folder / "slurm.conf"), "TRAMMEL": PROGRAM}

    def wait_for(self, what, condition):
        for _ in range(300):
            if condition():
                return
            time.sleep(0.1)
        logs = "\n".join(f"{p.name}:\n{p.read_text(errors='replace')[-2000:]}"
                         for p in [*self.folder.glob("*.log"), *self.folder.glob("*.out"), *self.folder.glob("munge/*.log")])
        self.fail(f"in vain for 30 s: {what}\n{logs}")

    def start_munge(self):
        user = pwd.getpwnam("munge")
        munge = self.folder / "munge"
        munge.mkdir(mode=0o755)
        key = munge / "key"
        key.write_bytes(os.urandom(128))
        key.chmod(0o400)
        for path in (munge, key):
            os.chown(path, user.pw_uid, user.pw_gid)
        self.munge_socket = munge / "socket"
        self.daemon("/usr/sbin/munged", "--foreground", f"--key-file={key}", f"--socket={self.munge_socket}",
                    f"--pid-file={munge}/pid", f"--log-file={munge}/munged.log", f"--seed-file={munge}/seed",
                    user="munge", group="munge", extra_groups=[])
        self.wait_for("munge", self.munge_socket.exists)

    def start_slurm(self):
        host = socket.gethostname().split(".")[0]
        controller_port, node_port = free_ports(2)
        (self.folder / "state").mkdir()
        (self.folder / "spool").mkdir()
        # Nothing below uses control groups. Left to find out which kind there is, the daemon ends where there is none.
        (self.folder / "cgroup.conf").write_text("CgroupPlugin=cgroup/v1\n")
        (self.folder / "slurm.conf").write_text(f"""ClusterName=trammel-test
SlurmctldHost={host}(127.0.0.1)
SlurmctldPort={controller_port}
AuthType=auth/munge
AuthInfo=socket={self.munge_socket}
CredType=cred/munge
SlurmUser=root
SlurmdUser=root
StateSaveLocation={self.folder}/state
SlurmdSpoolDir={self.folder}/spool
SlurmctldPidFile={self.folder}/slurmctld.pid
SlurmdPidFile={self.folder}/slurmd.pid
SlurmctldLogFile={self.folder}/slurmctld.log
SlurmdLogFile={self.folder}/slurmd.log
SlurmdParameters=config_overrides
ProctrackType=proctrack/pgid
TaskPlugin=task/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
JobAcctGatherType=jobacct_gather/none
AccountingStorageType=accounting_storage/none
MpiDefault=none
ReturnToService=2
SchedulerParameters=sched_min_interval=0
NodeName=one NodeHostname={host} NodeAddr=127.0.0.1 Port={node_port} CPUs=2 State=UNKNOWN
PartitionName=all Nodes=one Default=YES MaxTime=INFINITE State=UP
""")
        self.daemon("/usr/sbin/slurmctld", "-D", "-i")
        self.wait_for("the controller", lambda: self.slurm("scontrol", "ping").stdout.find("UP") >= 0)
        self.daemon("/usr/sbin/slurmd", "-D", "-N", "one")
        self.wait_for("the node", lambda: "idle" in self.slurm("sinfo", "-h", "-o", "%t").stdout)

    def slurm(self, *command):
        return subprocess.run(command, cwd=self.folder, env=self.env(), capture_output=True, text=True, timeout=200)

    def submit(self, *arguments):
        done = self.slurm("sbatch", "--wait", "--parsable", f"--array=1-{TASKS}", str(CLUSTER / "slurm_array.sh"),
                          *map(str, arguments))
        said = "\n".join(p.read_text() for p in sorted(self.folder.glob("slurm-*.out")))
        return done, f"{done.stderr}\n{said}"

    def test_job_array(self):
        done, said = self.submit(TRAIL, "night", "--units", UNITS)
        self.assertEqual(done.returncode, 0, said)
        self.gathered_is_whole(self.folder / "night")
        # Submitted again, there is nothing left to do; with another brief, it is refused.
        before = self.digest("night/slice-2")
        done, said = self.submit(TRAIL, "night", "--units", UNITS)
        self.assertEqual(done.returncode, 0, said)
        self.assertEqual(self.digest("night/slice-2"), before)
        (self.folder / "other.yaml").write_text(TRAIL.read_text().replace("band: [96, 108]", "band: [90, 108]"))
        done, said = self.submit("other.yaml", "night", "--units", UNITS)
        self.assertEqual(done.returncode, 2, said)
        self.assertIn("targets[1].band: [96, 108] → [90, 108]", said)


class Parallel(ClusterCase):
    def test_one_liner(self):
        """The line of the README as it stands there, its brief, folder and numbers put in."""
        line = re.search(r"^parallel .*$", (CLUSTER / "README.md").read_text(), re.MULTILINE).group(0)
        for old, new in {"brief.yaml": TRAIL.name, "results/night": "night", "--units 4096": f"--units {UNITS}",
                         "{}/8": f"{{}}/{TASKS}", "{1..8}": f"{{1..{TASKS}}}"}.items():
            self.assertIn(old, line)
            line = line.replace(old, new)
        (self.folder / TRAIL.name).symlink_to(TRAIL)  # its own path may hold a space
        (self.folder / "bin").mkdir()
        (self.folder / "bin" / "trammel").symlink_to(PROGRAM)
        (self.folder / "night").mkdir()
        env = {**environment(), "PATH": f"{self.folder}/bin:{os.environ['PATH']}", "HOME": str(self.folder)}
        done = subprocess.run(["bash", "-c", line], cwd=self.folder, env=env, capture_output=True, text=True, timeout=200)
        self.assertEqual(done.returncode, 0, done.stderr)
        shutil.move(self.folder / "night" / "all", self.folder / "joined")
        self.gathered_is_whole(self.folder / "night")
        self.assertEqual(self.digest("joined"), self.digest("all"))


if __name__ == "__main__":
    unittest.main(verbosity=2)
