//! Small pictures made of plain values.
