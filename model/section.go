package model

// Section is a nominal cross-section in its canonical spelling: `2x6`, `4/4`, `38x140mm`.
type Section string

// Eased says whether boards of this section come with rounded edges: sections of PS 20 do.
func (s Section) Eased() bool { return false }
