package model

// Money is an amount in 1/10000 of the currency unit.
type Money int64

// UnitsOfMoney are in one currency unit.
const UnitsOfMoney = 10000
