// Package across prices stocks on which pieces lie beside each other: crosscut into lengths that
// are ripped, or ripped into strips that are crosscut.
package across
