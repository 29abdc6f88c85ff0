// Command barwright reads one text file that describes a frame of slotted aluminium
// extrusion and works out what its builder needs: cut lists, checks, meshes, pictures, drawings.
package main

import "os"

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
