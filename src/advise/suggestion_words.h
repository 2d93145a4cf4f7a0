#pragma once

#include <string>
#include <vector>

#include "advise/planner.h"

namespace loftbeat::advise {

// "evenly weighed", "with fewer moves", "nearer to the wishes".
[[nodiscard]] std::string name_of(Leaning leaning);

// What a suggestion gives up, a sentence for each thing: passes that stay further from their wish
// than half a doubling of loudness comes to (a distance of 0.25), and, against another suggestion
// (null: none), passes further off than there, and joins with moves that are none there.
[[nodiscard]] std::vector<std::string> what_it_gives_up(const CheckContext& context,
                                                        const Suggestion& suggestion,
                                                        const Suggestion* against = nullptr);

// A wish out of reach: what is wished, what this organ can do there, and what to do about it.
[[nodiscard]] Error unreachable_error(const CheckContext& context, const UnreachableWish& wish);

// Why nothing can be suggested, and what to do.
[[nodiscard]] std::string why_none(const CheckContext& context, const Suggestions& suggestions);

// Indexes to names: organ::resolve of it is `drawn` again. Everything is stated, and every box.
[[nodiscard]] plan::RegistrationPlan named(const organ::Organ& organ,
                                           const organ::Registration& drawn);

// The plan with these registrations stated for the play-over and the verses; what it states for
// other passes stays. Interludes and the Amen have the plan's own.
[[nodiscard]] plan::Plan with_registrations(plan::Plan plan, const plan::Route& route,
                                            const organ::Organ& organ,
                                            const std::vector<organ::Registration>& drawn);

}  // namespace loftbeat::advise
