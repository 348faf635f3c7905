// Package across prices stocks on which pieces lie beside each other.
//
// Such a stock is crosscut into lengths that are ripped, or ripped into strips that are crosscut.
package across
