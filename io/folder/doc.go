// Package folder knows which files there are: a job folder in, an out folder out and back.
//
// Start at [ReadJob] or [ReadMonth] for a job, at [NewShop] for one to be filled in, at [Encode]
// and [ReadPlan] for a plan, at [ReadRack] for a shop's rack alone. All mistakes of all files come
// out at once, sorted. Whatever is read comes from an [io/fs.FS], and what is written is given as
// bytes by name. Where a folder lies, and how a new one takes the place of an old one, is for
// cmd/rackwright. The files themselves are for csvfile, settings and planfile; what is said between
// the rows of several files is here:
//
//	orders.go   designs/NAME.csv, and how many of each orders.csv asks for
//	shop.go     what is taken from the shop folder above
//	hand.go     the rack of a shop folder by itself
//	marks.go    the form in which a maker marks what was cut
//	rack.go     copies of a board, and which board a defect lies on
package folder
