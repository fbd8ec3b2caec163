"""A value reckoned from the program's counts, then with one deviation after another, each with what it moves."""
from collections import Counter, defaultdict

# Sums of the same counts in another order differ by less.
SAME = 1e-9
# The program's JSON has four decimals.
ROUNDED = 0.5e-4 + SAME


class Chain:
    """Counts that are changed step by step; `moves` has what each cause did to the value."""

    def __init__(self, formula, **counts):
        self.formula, self.counts, self.moves = formula, dict(counts), Counter()
        self.first = self.value = formula(**self.counts)

    def step(self, cause, **counts):
        """Changes counts for a cause."""
        if all(self.counts.get(key) == number for key, number in counts.items()):
            return
        self.counts.update(counts)
        self.moves[cause] += self.reckon()

    def add(self, cause, key, number):
        """Adds to one count for a cause."""
        self.step(cause, **{key: self.counts[key] + number})

    def use(self, cause, formula):
        """Takes another formula for a cause."""
        self.formula = formula
        self.moves[cause] += self.reckon()

    def reckon(self):
        before, self.value = self.value, self.formula(**self.counts)
        return self.value - before


class Table:
    """Every comparison: the differences of each measure and library, and how much of them each cause makes."""

    def __init__(self):
        self.rows, self.causes, self.faults, self.seen = defaultdict(list), defaultdict(list), [], Counter()

    def add(self, library, measure, path, ours, theirs, chain):
        """Takes in one value of a library and the chain that should lead to it."""
        if abs(chain.first - ours) > ROUNDED:
            self.faults.append(f"{path}: {measure} from the counts is {chain.first}, the program says {ours}")
        if abs(chain.value - theirs) > SAME * max(1.0, abs(theirs)):
            self.faults.append(f"{path}: {measure} of {library} is {theirs}, and explained is {chain.value}")
        self.rows[library, measure].append(theirs - ours)
        for cause, move in chain.moves.items():
            if abs(move) > SAME:
                self.causes[library, measure, cause].append(move)
                self.seen[library, cause] += 1

    def print(self):
        """One block a measure: how far it is off, and the causes with the texts that they move."""
        for (library, measure), off in self.rows.items():
            mean, largest = sum(off) / len(off), max(off, key=abs)
            print(f"{measure}, {library}: {len(off)} texts, mean difference {mean:+.3f}, largest {largest:+.3f}")
            causes = [(cause, moves) for (of, what, cause), moves in self.causes.items() if (of, what) == (library, measure)]
            for cause, moves in sorted(causes, key=lambda pair: -abs(sum(pair[1]))):
                largest = max(moves, key=abs)
                print(f"    {sum(moves) / len(off):+8.3f}  {cause} ({len(moves)} texts, largest {largest:+.3f})")
            if not causes:
                print("              the same")

    def must_all_be_seen(self, library, wanted):
        """A cause that moves nothing any more explains nothing, and one without an explanation must be written up."""
        found = {cause for of, cause in self.seen if of == library}
        self.faults += [f"{library}: nothing is moved any more by: {cause}" for cause in sorted(set(wanted) - found)]
        self.faults += [f"{library}: explained.md does not tell of: {cause}" for cause in sorted(found - set(wanted))]
