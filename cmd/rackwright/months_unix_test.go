//go:build unix

package main

import (
	"bufio"
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// Interrupted in its second month, which no run ends, months shows the first.
func TestInterruptedMonths(t *testing.T) {
	shop := t.TempDir()
	if err := os.Rename(many(t, 1), filepath.Join(shop, "2")); err != nil {
		t.Fatal(err)
	}
	lay(t, shop, map[string]string{"shop.toml": ""})
	lay(t, filepath.Join(shop, "1"), map[string]string{
		"parts.csv": "commission,part,qty,material,length,width,thickness\n" +
			"C-1,shelf,2,pine,40,5 1/2,3/4\n",
		"rack.csv": "board,material,section,length\n",
		"yard.csv": "material,section,length,price\npine,1x6,96,9.60\n"})
	cmd := exec.Command("rackwright", "months", shop, "--work", "1000000000")
	var stdout bytes.Buffer
	cmd.Stdout = &stdout
	stderr, err := cmd.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	hung := time.AfterFunc(5*time.Minute, func() { cmd.Process.Kill() })
	defer hung.Stop()
	var said strings.Builder
	sent := false // a second signal would end it at once
	for lines := bufio.NewScanner(stderr); lines.Scan(); {
		said.WriteString(lines.Text() + "\n")
		if !sent && strings.HasPrefix(lines.Text(), "month 2 of 2, 2: ") {
			sent = true
			if err := cmd.Process.Signal(os.Interrupt); err != nil {
				t.Fatal(err)
			}
		}
	}
	cmd.Wait()
	if code := cmd.ProcessState.ExitCode(); code != exitDone ||
		!strings.HasSuffix(said.String(), "\ninterrupted: these are the months before 2\n") ||
		strings.Count(stdout.String(), "  1       rackwright, all at once") != 1 ||
		strings.Contains(stdout.String(), "  2       rackwright, all at once") {
		t.Errorf("exit code %d\n%s\n%s", code, &said, &stdout)
	}
}
