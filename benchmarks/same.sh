#!/usr/bin/env bash
# Do two states of the project plan the same bytes?
#
#	benchmarks/same.sh [-w WORK] [-k DIR] OLD [NEW] [JOB ...]
#
# OLD and NEW are commits; without NEW, or with "-", it is the working tree. The jobs are demo,
# month1 to month3, ripmonth1 and ripmonth2, and the small ones of testdata/jobs; name some to
# plan only these. -w is the limit of work in millions, the program's default if left away. -k
# names a folder that keeps what commits have planned, so that the next comparison need not plan
# it again.
#
# The job folders are written by the working tree and planned by both. Prints what differs, and
# exits with 1 if anything does.
set -euo pipefail
cd "$(dirname "$0")/.."

work=0 keep=
while getopts w:k: flag; do
	case $flag in
	w) work=$OPTARG ;;
	k) keep=$OPTARG ;;
	*) exit 2 ;;
	esac
done
shift $((OPTIND - 1))
[ $# -gt 0 ] || { sed -n '4,15s/^#//p' "$0" >&2; exit 2; }
old=$(git rev-parse --short --verify "$1^{commit}") new=-
shift
if [ $# -gt 0 ]; then
	[ "$1" = - ] || new=$(git rev-parse --short --verify "$1^{commit}")
	shift
fi
jobs=${*:-demo month1 month2 month3 ripmonth1 ripmonth2 $(ls testdata/jobs)}

tmp=$(mktemp -d)
trap 'rm -rf "$tmp"; git worktree prune' EXIT
[ -n "$keep" ] || keep=$tmp/kept
mkdir -p "$keep"

# build STATE: the program as of a commit, or of the working tree.
build() {
	if [ "$1" = - ]; then
		go build -o "$tmp/program$1" ./cmd/rackwright
	else
		git worktree add -q --detach "$tmp/tree$1" "$1"
		(cd "$tmp/tree$1" && go build -o "$tmp/program$1" ./cmd/rackwright)
		git worktree remove --force "$tmp/tree$1"
	fi
}

# plan STATE: the out folders of all jobs, below $tmp/STATE or what is kept of it.
plan() {
	local state=$1 at=$tmp/$1 job
	[ "$state" = - ] || at=$keep/$state-$work
	mkdir -p "$at"
	for job in $jobs; do
		[ -d "$at/$job" ] && continue
		[ -x "$tmp/program$state" ] || build "$state"
		rm -rf "$at/$job.new"
		"$tmp/program$state" plan "$tmp/jobs/$job" --quiet --work "$work" --date 2027-03-01 \
			--out "$at/$job.new" || [ $? = 1 ]
		mv "$at/$job.new" "$at/$job"
	done
	planned=$at
}

mkdir -p "$tmp/jobs/demo"
cp -r testdata/jobs/. "$tmp/jobs"
cp -r cmd/rackwright/demo/. cmd/rackwright/demo/2027-03/. "$tmp/jobs/demo"
go run ./benchmarks/months -write "$tmp/jobs" -seeds 1-3
go run ./benchmarks/months -write "$tmp/jobs" -seeds 1-2 -rips -pieces 400

plan "$old"
first=$planned
plan "$new"
status=0
for job in $jobs; do
	diff -r "$first/$job" "$planned/$job" >"$tmp/diff" && continue
	status=1
	echo "$job: not the same"
	head -20 "$tmp/diff" | cut -c1-200
done
[ $status = 0 ] && echo "the same bytes: $jobs"
exit $status
