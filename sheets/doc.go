// Package sheets draws the plan set: one file a sheet, each a list of scenes.
//
// It answers what the reviewer, the crew and the inspector ask of paper, from
// one resolved plant, so that no two sheets disagree. Layout is computed from
// the plant; no house is known here. What is not known prints as "?" and is
// asked for on the sheet.
//
// Source: sheet numbers after the US National CAD Standard, Uniform Drawing
// System; line widths and lettering after ASME Y14.2; symbols after IEEE 315 as
// package symbol describes them.
//
// It leaves out what is right or wrong (package rules) and how a scene becomes
// a file (packages below scene).
package sheets
