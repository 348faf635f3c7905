// Asks what is in a record of nest/lp (see nest/lp/record.go) again of CLP, for comparison:
//
//	apt-get install g++ coinor-libclp-dev
//	g++ -O2 -o clp clp.cpp -lClp -lCoinUtils
//	./clp FILE
//
// Where columns were added, primal, else dual simplex, each from the basis of the last solve and
// without presolve. The time is that of the thread within CLP.
#include <coin/ClpSimplex.hpp>

#include <cmath>
#include <cstdio>
#include <cstring>
#include <ctime>
#include <fstream>
#include <iterator>
#include <map>
#include <string>
#include <vector>

using std::map, std::string, std::vector;

static double now() {
	timespec t;
	clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
	return t.tv_sec + t.tv_nsec * 1e-9;
}

static double bound(double v) {
	return v > 1e300 ? COIN_DBL_MAX : v < -1e300 ? -COIN_DBL_MAX : v;
}

static vector<unsigned char> record;
static size_t at;

static unsigned whole() {
	unsigned v = 0;
	for (int shift = 0; at < record.size(); shift += 7) {
		unsigned char c = record[at++];
		v |= unsigned(c & 127) << shift;
		if (!(c & 128)) break;
	}
	return v;
}

static double number() {
	double v = 0;
	if (at + 8 <= record.size()) memcpy(&v, &record[at], 8);
	at += 8;
	return v;
}

struct Program {
	ClpSimplex *clp = nullptr;
	bool solved = false, added = false, changed = false;
	// Columns not yet handed on.
	vector<double> cost, lo, hi, coefs;
	vector<CoinBigIndex> start{0};
	vector<int> rows;

	void hand() {
		if (cost.empty()) return;
		clp->addColumns(cost.size(), lo.data(), hi.data(), cost.data(), start.data(), rows.data(),
			coefs.data());
		cost.clear(), lo.clear(), hi.clear(), coefs.clear(), rows.clear(), start.assign(1, 0);
	}

	void column() {
		vector<unsigned> at(whole());
		for (auto &i : at) i = whole();
		cost.push_back(number()), lo.push_back(bound(number())), hi.push_back(bound(number()));
		map<int, double> sums;
		for (auto i : at) sums[i] += number();
		for (auto &s : sums) rows.push_back(s.first), coefs.push_back(s.second);
		start.push_back(rows.size());
		added = true;
	}
};

struct Tally {
	long solves = 0, pivots = 0;
	double time = 0;
};

static map<string, Tally> tallies;
static int wrong = 0;

static void solve(Program &p) {
	string kind = !p.solved ? "first" : p.added && p.changed ? "both" : p.added ? "columns added"
		: p.changed ? "bounds changed" : "nothing";
	p.hand();
	double begun = now();
	if (p.solved && !p.changed) p.clp->primal();
	else p.clp->dual();
	Tally &t = tallies[kind];
	t.time += now() - begun, t.solves++, t.pivots += p.clp->numberIterations();
	bool optimal = whole() == 0;
	double value = number();
	if (optimal != (p.clp->status() == 0) ||
		(optimal && fabs(p.clp->objectiveValue() - value) > 1e-6 * (1 + fabs(value)))) wrong++;
	p.solved = true, p.added = p.changed = false;
}

int main(int, char **args) {
	std::ifstream file(args[1], std::ios::binary);
	record.assign(std::istreambuf_iterator<char>(file), {});
	map<unsigned, Program> programs;
	while (at < record.size()) {
		char what = record[at++];
		Program &p = programs[whole()];
		if (!p.clp) p.clp = new ClpSimplex(), p.clp->setLogLevel(0);
		int i = what == 'r' || what == 'c' || what == 'o' || what == 'K' ? whole() : 0;
		double lo = 0, hi = 0;
		if (what == 'R' || what == 'r' || what == 'c') lo = bound(number()), hi = bound(number());
		if (what != 'R' && what != 'A' && what != 'S') p.hand();
		switch (what) {
		case 'R': p.clp->addRow(0, nullptr, nullptr, lo, hi); break;
		case 'A': p.column(); break;
		case 'r': p.clp->setRowBounds(i, lo, hi), p.changed = true; break;
		case 'c': p.clp->setColumnBounds(i, lo, hi), p.changed = true; break;
		case 'o': p.clp->setObjectiveCoefficient(i, number()), p.changed = true; break;
		case 'K': {
			Program &q = programs[i];
			q = p, q.clp = new ClpSimplex(*p.clp);
			break;
		}
		case 'S': solve(p);
		}
	}
	for (auto &t : tallies)
		printf("| %s | %ld | %ld | %.3f |\n", t.first.c_str(), t.second.solves, t.second.pivots,
			t.second.time);
	printf("%d otherwise than recorded\n", wrong);
}
