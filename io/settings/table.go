package settings

import "rackwright/model"

// key is one key of shop.toml: its name with that of its table, where its value is kept and how it
// is taken over, and its meaning as the file that [Write] writes has it.
type key struct {
	name  string
	at    any // points to the value
	set   setter
	about string
}

// shopKeys are all keys but those of single materials, sections, yards and bins, by their names.
func shopKeys(s *model.Settings) map[string]setter {
	keys := map[string]setter{}
	for _, k := range keyTable(s) {
		keys[k.name] = k.set
	}
	return keys
}

// keyTable lists the same keys in the order of the file: those of one table stand together.
func keyTable(s *model.Settings) []key {
	lengths := map[string]*model.Length{}
	for _, l := range s.Lengths() {
		lengths[l.Key] = l.Value
	}
	long := func(name, about string) key {
		return key{name, lengths[name], length(lengths[name]), about}
	}
	sheet := map[string]*model.Length{}
	for _, l := range s.Labels.Lengths() {
		sheet[l.Key] = l.Value
	}
	label := func(name, about string) key {
		return key{"labels." + name, (*metricLength)(sheet[name]), metric(sheet[name]), about}
	}
	return []key{
		{"units", &s.Units, unit(&s.Units), `what a bare number means: "in" or "mm"`},
		{"currency", &s.Currency, word(&s.Currency), "its name, as it is printed"},
		{"batch", &s.Batch, word(&s.Batch),
			`begins new ids; "": the name of the month's folder, so that no id comes twice`},
		{"seasoning", &s.Condition.Seasoning, choice(model.Seasonings)(&s.Condition.Seasoning),
			`"dry" or "green": how softwood was surfaced`},
		{"surface", &s.Condition.Surface, choice(model.Surfaces)(&s.Condition.Surface),
			`"rough" or "S2S": how hardwood comes; a row may differ`},

		{"display.inch", &s.Display.Inch, choice(model.InchFractions)(&s.Display.Inch),
			`"1/64", "1/32" or "1/16": how lengths are shown in an inch shop`},

		long("kerf.crosscut", "what a crosscut turns into dust"),
		long("kerf.rip", "what a rip turns into dust"),

		long("trim.yard_end", "squared off each end of a bought board, saw cut included"),
		long("trim.rack_end", "squared off each end of a rack board, saw cut included"),

		long("allowance.length", "a blank is longer than its part by this"),
		long("allowance.edge", "and wider by this for each sawn edge"),
		long("allowance.thickness", "and thicker by this for both faces together"),
		long("allowance.thickness_s2s", "the same of stock that comes S2S"),
		long("allowance.eased_edge", "lost at a board's own rounded edge"),
		long("allowance.plane_limit", "thicker stock is not planed down"),

		long("offcut.keep_length", "a shorter offcut does not go back to the rack"),
		long("offcut.keep_width", "nor does a narrower one"),
		{"offcut.value", &s.Offcut.Value, share(&s.Offcut.Value),
			"rack value: the share of the yard's price per area"},
		{"offcut.strip_value", &s.Offcut.StripValue, share(&s.Offcut.StripValue),
			"the share of its board's worth that a strip keeps"},

		{"handling.board", &s.Handling, money(&s.Handling), "money for each board taken in hand"},
		{"handling.rip", &s.Ripping, money(&s.Ripping),
			"money for each foot of rip, in a mm shop each metre"},

		{"work.setting", &s.Work.Setting, minutes(&s.Work.Setting),
			"minutes to move a stop or fence and to test it"},
		{"work.lift", &s.Work.Lift, minutes(&s.Work.Lift),
			"minutes to take up a board or piece and put it away"},
		{"work.change", &s.Change, money(&s.Change),
			"money for each board that a replan has to lay out anew"},

		long("safety.shortest_blank", "you are warned of shorter ones"),
		long("safety.shortest_rip", "no shorter piece is ripped"),
		long("safety.narrowest_rip", "no narrower piece is ripped off"),

		long("glue_up.joint", "lost at each glued edge, straightened"),
		long("glue_up.face_joint", "lost at each glued face of layers"),
		long("glue_up.panel", "a glue-up is wider by this before its last trim"),
		long("glue_up.narrowest", "no narrower stave, when it is glued"),
		long("glue_up.widest", "no wider stave, when it is glued"),
		long("glue_up.step", "staves of random widths come in such steps"),
		long("glue_up.extra_length", "staves and layers are longer by this"),

		long("gang.longest", "no longer blank for several short parts in one"),

		{"spare.at_most", &s.SpareAtMost, money(&s.SpareAtMost),
			"money that one spare copy may cost"},

		long("machine.jointer_width", "widest face that the jointer flattens; 0: not known"),
		long("machine.planer_width", "widest piece that the planer takes; 0: not known"),
		long("machine.planer_shortest", "shortest piece that it takes; 0: not known"),

		{"rip.trimming_cut", &s.TrimmingCut, yesNo(&s.TrimmingCut),
			"true or false: whether a third cut may bring a blank to size"},

		long("defects.margin", "kept clear on each side of a defect"),
		{"defects.weak", &s.Weak, kinds(&s.Weak), "no rip runs through one of these"},
		{"defects.sound", &s.Sound, kinds(&s.Sound), "what a sound face may show"},
		{"defects.hidden", &s.Hidden, kinds(&s.Hidden), "what a hidden face may have"},

		long("count.tolerance", "in a count, a length or width this far off is the same"),

		{"tally.hardwood", &s.Tally.Hardwood, choice(model.HardwoodRules)(&s.Tally.Hardwood),
			`"surface measure" or "exact": what the yard counts`},
		{"tally.half", &s.Tally.Half, choice(model.HalfRules)(&s.Tally.Half),
			`"up" or "alternate": how it rounds exact halves`},

		{"labels.columns", &s.Labels.Columns, count(&s.Labels.Columns),
			"labels beside each other on a sheet"},
		{"labels.rows", &s.Labels.Rows, count(&s.Labels.Rows),
			"labels below each other on a sheet"},
		label("top", "top margin of the sheet, in mm"),
		label("bottom", "bottom margin of the sheet, in mm"),
		label("left", "left margin of the sheet, in mm"),
		label("right", "right margin of the sheet, in mm"),
		label("column_gap", "between two columns, in mm"),
		label("row_gap", "between two rows, in mm"),
		{"labels.sheet", &s.Labels.Sheet, choice(model.LabelSheets)(&s.Labels.Sheet),
			`"a4" or "letter"; "": the paper of all papers`},

		{"reserve.usable", &s.Usable, share(&s.Usable),
			"the share of bought boards that you expect to be clear"},
	}
}

// metricLength is a length whose bare number is in millimetres in any shop.
type metricLength model.Length
