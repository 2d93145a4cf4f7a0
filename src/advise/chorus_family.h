#pragma once

#include <cstddef>
#include <vector>

#include "organ/organ.h"

namespace loftbeat::advise {

// Which registrations a planner looks at: on a small organ every one that its stops and couplers
// can make, on a larger one the choruses and what lies one knob away from one of them.

inline constexpr std::size_t kMostCandidates = 4096;
// Up to so many stops and couplers all sets of them are looked at: 2^12 = kMostCandidates.
inline constexpr std::size_t kEverySetControls = 12;

struct FamilyWish {
  std::vector<std::size_t> held;    // stops drawn in every candidate
  std::vector<std::size_t> barred;  // stops drawn in none; barred goes before held
  // Registrations that are among the candidates whatever they are: what a plan states.
  std::vector<organ::Registration> besides;
};

// A chorus is built from below (common practice, no source): in a division no stop of 4' and
// higher, no mutation and no mixture without an 8' there; no stop of 2' and higher, no mutation and
// no mixture without a 4' there; in the pedal nothing without a 16' or an 8'. A coupler only from a
// division in which something is drawn. True for nothing drawn.
[[nodiscard]] bool is_chorus(const organ::Organ& organ, const organ::Registration& drawn);

// At most kMostCandidates registrations, each once, boxes open and tremulants off, in an order that
// follows from the organ's file alone: `besides`; the choruses of the manual to which most others
// are coupled, by themselves and with another one's 8', 8' and 4' or all of it, each with no pedal,
// with its 16' and 8', and with all of it, coupled and not; then their neighbours by one knob, in
// the same order, as far as the number allows. Unison couplers only.
[[nodiscard]] std::vector<organ::Registration> chorus_family(const organ::Organ& organ,
                                                             const FamilyWish& wish);

}  // namespace loftbeat::advise
