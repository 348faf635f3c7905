package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/sys/unix"

	"rackwright/io/table"
)

// inTerminal gives what a command prints in a terminal of so many columns, with LF at line ends.
func inTerminal(t *testing.T, dir string, columns uint16, env []string, args ...string) string {
	t.Helper()
	master, err := os.OpenFile("/dev/ptmx", os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skipf("there is no terminal to be had (%v)", err)
	}
	defer master.Close()
	fd := int(master.Fd())
	n, err := unix.IoctlGetInt(fd, unix.TIOCGPTN)
	if err == nil {
		err = unix.IoctlSetPointerInt(fd, unix.TIOCSPTLCK, 0)
	}
	if err != nil {
		t.Skipf("there is no terminal to be had (%v)", err)
	}
	if err := unix.IoctlSetWinsize(fd, unix.TIOCSWINSZ,
		&unix.Winsize{Row: 50, Col: columns}); err != nil {
		t.Fatal(err)
	}
	slave, err := os.OpenFile(fmt.Sprintf("/dev/pts/%d", n), os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skipf("there is no terminal to be had (%v)", err)
	}
	c := exec.Command("rackwright", args...)
	c.Dir, c.Stdout, c.Stderr = dir, slave, slave
	c.Env = append(os.Environ(), env...)
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	slave.Close()
	var out bytes.Buffer
	io.Copy(&out, master) // ends with an error once the command has closed its end
	if err := c.Wait(); err != nil {
		t.Fatalf("%q: %v\n%s", args, err, &out)
	}
	return strings.ReplaceAll(out.String(), "\r\n", "\n")
}

// In a terminal no line of a report is longer than that, up to 140 columns, and there are no
// colours, so that NO_COLOR (no-color.org) has nothing to turn off. In a pipe all is as in a
// terminal of 80.
func TestTerminal(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(filepath.Join(dir, "shop"), os.DirFS("demo")); err != nil {
		t.Fatal(err)
	}
	seen := inTerminal(t, dir, 80, nil, "plan", "shop/2027-03", "--work", "1")
	if at := strings.LastIndexByte(seen, '\r'); at >= 0 { // the line of the progress is gone
		seen = seen[at+1:]
	}
	begun := false
	for line := range strings.Lines(seen) {
		begun = begun || strings.Contains(line, " commissions, ")
		remark := strings.Contains(line, ".csv:")
		if begun && !remark && table.Width(strings.TrimSuffix(line, "\n")) > 80 {
			t.Errorf("of 80 columns: %q", line)
		}
	}
	for _, args := range [][]string{{"show", "shop/2027-03/out"}, {"explain", "shop/2027-03"},
		{"explain", "shop/2027-03", "C-01 hall bench", "leg"},
		{"movement", "shop/2027-03", "--moisture", "6-10"}} {
		c := exec.Command("rackwright", args...)
		c.Dir = dir
		piped, err := c.Output()
		if err != nil {
			t.Fatal(err)
		}
		for columns, most := range map[uint16]int{40: 80, 80: 80, 110: 110, 250: 140} {
			text, longest := inTerminal(t, dir, columns, nil, args...), 0
			for line := range strings.Lines(text) {
				longest = max(longest, table.Width(strings.TrimSuffix(line, "\n")))
			}
			if longest > most || args[0] == "show" && longest < most-15 {
				t.Errorf("%q in %d columns has lines of %d", args, columns, longest)
			}
			if columns == 80 && text != string(piped) {
				t.Errorf("%q: in a terminal\n%s\nin a pipe\n%s", args, text, piped)
			}
			if strings.ContainsRune(text, '\x1b') {
				t.Errorf("%q has colours in %d columns:\n%s", args, columns, text)
			}
		}
		if text := inTerminal(t, dir, 80, []string{"NO_COLOR=1"}, args...); text != string(piped) {
			t.Errorf("%q without colours is\n%s\nnot\n%s", args, text, piped)
		}
	}
}
