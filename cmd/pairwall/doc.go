// Command pairwall is the whole program: it wires the rooms of the house
// together and gives them a command line. What it decides is where the data
// lies, who may hear it (this machine only) and how a terminal reads; nothing
// about photographs.
package main
