// Package choosing chooses how what is wanted is made: of which pieces, where there are several
// ways, and plans the pieces with all else.
//
// Start at [Solve], and at [cutting.Want].
//
//   - The relaxation in which the ways are columns ([cutstock.Choosing]) proves a bound, and says
//     which ways are near the best. round.go makes whole numbers of them, one want after the other.
//   - reopen.go has plans walked down to from there, while sets of staves stay free, and some
//     boards planned anew with all that was chosen.
//   - Once it is chosen what is cut, the program is one of package cutstock. Each choice is tried
//     with a small part of the work, the best with a large one. Planning one begins with patterns
//     that the relaxation has found.
//   - improve.go changes the choice, one want at a time, as long as that gains.
//   - branch.go branches on how many times a way is used, and on how many boards are used or are
//     bought in all. Then it does so on ways alone. Where all is chosen, such a leaf has the proof
//     of cutstock. So small programs are proven.
//
// With awkward kerfs all this is done with kerfs rounded up first, in half the work. What comes of
// it is where the search with the true kerfs begins.
//
// Spare copies are wanted, too, but each costs Forgo where it is not made. So what is minimised is
// the value and what is forgone. A bound of that less what the plan forgoes is a bound on the value
// of all plans that forgo as much, or less.
package choosing
