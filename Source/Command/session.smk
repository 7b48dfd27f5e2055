# Works through a plan as several jobs, on one machine or on many, and joins their results into one sheet: the same bytes
# as `tarry session PLAN -o FOLDER` writes alone. Each job is a share of the plan by whole setups (tarry session --shard).
#
# On this machine, two jobs of one core each:
#
#     snakemake -s session.smk --cores 2 --config plan=cues/plan.csv out=morning shards=2
#
# What is asked for by --config:
#     plan    the plan (cues/plan.csv)
#     out     the folder for sheet and prints
#     shards  how many jobs; as many as there are setups is the most that helps (4)
#     jobs    takes that one job works on at once: the cores it may use (1)
#     tarry   the command, where it is not on the PATH
#     more    further options of tarry session, such as "--whole-samples"
#
# A job that failed or was killed goes on where it stopped when snakemake is started again (--resume tells what is done
# by its content); a plan that was changed is worked through again as far as it changed.
#
# On a cluster with Slurm, plan, sound files and `out` in a folder that all machines see. Snakemake asks Slurm for each
# job through a profile, a folder with this config.yaml in it (Snakemake 7; from 8 on, `executor: slurm` with its plugin
# takes the place of `cluster`):
#
#     # slurm/config.yaml
#     cluster: "sbatch --parsable --job-name=tarry-{rule}-{wildcards} --cpus-per-task={threads}
#               --mem={resources.mem_mb} --time={resources.runtime} --output=slurm-%j.txt"
#     cluster-cancel: scancel
#     jobs: 40             # in the queue at once
#     latency-wait: 60     # s, until a file that another machine wrote is seen over the network
#     restart-times: 1     # a job whose machine went down is sent again, and resumes
#     local-cores: 1
#     default-resources: [mem_mb=1000, runtime=60]
#
#     snakemake -s session.smk --profile slurm --config plan=/shared/cues/plan.csv out=/shared/morning shards=20 jobs=4
#
# `gather` is light and runs where snakemake was started.

from pathlib import Path
from shlex import quote

PLAN = config.get("plan", "cues/plan.csv")
OUT = config.get("out", "morning")
SHARDS = int(config.get("shards", 4))
JOBS = int(config.get("jobs", 1))
TARRY = quote(str(config.get("tarry", "tarry")))
MORE = config.get("more", "")


localrules: gather


rule gather:
    input:
        expand(f"{OUT}/work/shards/{{shard}}-of-{SHARDS}.done", shard=range(1, SHARDS + 1)),
    output:
        f"{OUT}/sheet.json",
    params:
        out=OUT,
    shell:
        TARRY + " session --gather {params.out:q}"


rule shard:
    input:
        plan=PLAN,
    output:
        done=touch(f"{OUT}/work/shards/{{shard}}-of-{SHARDS}.done"),
    threads: JOBS
    resources:
        mem_mb=300 + 200 * JOBS,  # memory does not grow with the takes
        runtime=lambda wildcards, attempt: 60 * attempt,  # minutes
    params:
        out=OUT,
    shell:
        TARRY + " session {input.plan:q} -o {params.out:q} --shard {wildcards.shard}/" + str(SHARDS)
        + " --jobs {threads} --resume " + MORE
