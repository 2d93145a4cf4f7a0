#pragma once

#include <array>
#include <string>

#include "practice/review.h"
#include "report/fields.h"
#include "report/json_writer.h"

namespace loftbeat::report {

// The parts of the JSON, each written as members into the object that is open.

void write_plan_members(JsonWriter& json, const practice::Review& review);
void write_score_members(JsonWriter& json, const practice::Review& review);
void write_passes(JsonWriter& json, const practice::Review& review);
void write_joins(JsonWriter& json, const practice::Review& review);
void write_stop_moves(JsonWriter& json, const practice::Review& review);
void write_led(JsonWriter& json, const practice::Review& review);
void write_notes(JsonWriter& json, const practice::Review& review);
void write_play_over(JsonWriter& json, const practice::Review& review);
void write_findings(JsonWriter& json, const practice::Review& review);

// The printed bar: a number where it is one, else as printed ("12a").
void write_bar(JsonWriter& json, const std::string& bar);

template <typename Owner, std::size_t N>
void write_figures(JsonWriter& json, const std::array<Figure<Owner>, N>& figures,
                   const Owner& owner) {
  for (const Figure<Owner>& figure : figures) json.figure(figure.key, owner.*(figure.member));
}

template <typename Owner, std::size_t N>
void write_plain(JsonWriter& json, const std::array<Plain<Owner>, N>& figures, const Owner& owner) {
  for (const Plain<Owner>& figure : figures) json.figure(figure.key, owner.*(figure.member));
}

}  // namespace loftbeat::report
