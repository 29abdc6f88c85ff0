// Package drawing makes the sheets that go to the workshop: part drawings, arrangement, exploded views, profile
// sheets and drill templates, as PDF, SVG and DXF.
//
// A [Sheet] is a recorded list of operations ([Stroke], [Arc], [Text]) in millimetres on the paper. What an
// operation is, its [Role], decides its line (ISO 128) and its layer. Nothing is drawn
// until [WritePDF], [WriteSVG] or [WriteDXF] plays the record, so a test reads what a sheet says without
// reading a PDF, and the same record gives the same bytes.
//
// Start with [PartSheets]: it lays out one sheet for each part of a frame. Layout is computation: every text is
// measured ([Measure]), callouts try their legal places until one stands clear, values of running dimensions
// move aside as little as they must, and blocks look for room. A sheet that fails [Sheet.Verify] is never
// returned: the layout goes on to a smaller scale, a hole table, a larger sheet or a further sheet.
//
// Looking at a face with the datum end (end 1) left, the next-numbered face lies below it. From that
// follow the places of all views, in first and third angle (ISO 5456-2).
//
// The sheets follow ISO 5457 (border), ISO 7200 (title block), ISO 128 (lines and views), ISO 129-1 (dimensions), ISO
// 3098 (lettering), ISO 5455 (scales), ISO 6410 (threads) and ISO 15786 (hole callouts).
package drawing
