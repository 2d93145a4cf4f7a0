#include "room/materials.h"

namespace loftbeat::room {
namespace {

// Where the figures were taken from.
constexpr std::string_view kBook =
    "Vorlaender, Auralization (2008), appendix, as an open room-simulation library and a web copy "
    "reproduce it";
constexpr std::string_view kHandbook = "handbook table, the same in several independent copies";
constexpr std::string_view kPews =
    "Sengpiel's table of absorption coefficients, the same values in eight further copies";
constexpr std::string_view kBenches =
    "seating table on two web pages of one lineage; its origin is unknown";
constexpr std::string_view kPersons =
    "one open table, two files of one lineage; its origin is unknown";
constexpr std::string_view kDerived =
    "derived: audience on wooden chairs, 1 per m2, less half of the empty chairs at 2 per m2 "
    "(Vorlaender 2008)";

constexpr double kBlank = kNotGiven;
constexpr AbsorptionKind kArea = AbsorptionKind::per_square_metre;
constexpr AbsorptionKind kEach = AbsorptionKind::per_person;

// At 125, 250, 500, 1000, 2000, 4000 and 8000 Hz.
constexpr Material kMaterials[] = {
    {"pews-occupied",
     "audience in wooden pews, 100 % occupied, per m2 floor",
     kArea,
     {0.57, 0.61, 0.75, 0.86, 0.91, 0.86, kBlank},
     kPews},
    {"benches-occupied",
     "wooden benches/pews, fully occupied (lower variant)",
     kArea,
     {0.5, 0.56, 0.66, 0.76, 0.8, 0.76, kBlank},
     kBenches},
    {"benches-two-thirds-occupied",
     "wooden benches/pews, 2/3 occupied",
     kArea,
     {0.37, 0.4, 0.47, 0.53, 0.56, 0.53, kBlank},
     kBenches},
    {"pews-empty",
     "wooden benches/pews, empty",
     kArea,
     {0.1, 0.09, 0.08, 0.08, 0.08, 0.08, kBlank},
     kBenches},
    {"wooden-chairs-empty",
     "wooden chairs without cushion, empty, 2 per m2",
     kArea,
     {0.05, 0.08, 0.1, 0.12, 0.12, 0.12, kBlank},
     kBook},
    {"chairs-occupied-1-per-m2",
     "audience on wooden chairs, 1 per m2",
     kArea,
     {0.16, 0.24, 0.56, 0.69, 0.81, 0.78, 0.78},
     kBook},
    {"chairs-occupied-2-per-m2",
     "audience on wooden chairs, 2 per m2",
     kArea,
     {0.24, 0.4, 0.78, 0.98, 0.96, 0.87, 0.87},
     kBook},
    {"choir-area",
     "audience, orchestra or choir area incl. narrow aisles",
     kArea,
     {0.6, 0.74, 0.88, 0.96, 0.93, 0.85, 0.85},
     kBook},
    {"audience-0.72-per-m2",
     "audience area, 0.72 persons per m2",
     kArea,
     {0.1, 0.21, 0.41, 0.65, 0.75, 0.71, kBlank},
     kBook},
    {"audience-1-per-m2",
     "audience area, 1 person per m2",
     kArea,
     {0.16, 0.29, 0.55, 0.8, 0.92, 0.9, kBlank},
     kBook},
    {"audience-1.5-per-m2",
     "audience area, 1.5 persons per m2",
     kArea,
     {0.22, 0.38, 0.71, 0.95, 0.99, 0.99, kBlank},
     kBook},
    {"audience-2-per-m2",
     "audience area, 2 persons per m2",
     kArea,
     {0.26, 0.46, 0.87, 0.99, 0.99, 0.99, kBlank},
     kBook},
    {"cushioned-benches-empty",
     "benches, cushioned, empty",
     kArea,
     {0.32, 0.4, 0.42, 0.44, 0.43, 0.48, kBlank},
     kBenches},
    {"hard-average",
     "hard surfaces average (plaster, brick, stone)",
     kArea,
     {0.02, 0.02, 0.03, 0.03, 0.04, 0.05, 0.05},
     kBook},
    {"plaster-on-brick",
     "plaster, gypsum or lime, smooth on brick",
     kArea,
     {0.013, 0.015, 0.02, 0.03, 0.04, 0.05, kBlank},
     kHandbook},
    {"plaster-on-lath",
     "plaster, rough finish on lath",
     kArea,
     {0.14, 0.1, 0.06, 0.05, 0.04, 0.03, kBlank},
     kHandbook},
    {"limestone", "limestone wall", kArea, {0.02, 0.02, 0.03, 0.04, 0.05, 0.05, 0.05}, kBook},
    {"lime-wash", "rough lime wash", kArea, {0.02, 0.03, 0.04, 0.05, 0.04, 0.03, 0.02}, kBook},
    {"marble-floor", "marble floor", kArea, {0.01, 0.01, 0.01, 0.02, 0.02, 0.02, 0.02}, kBook},
    {"marble-or-tile",
     "marble or glazed tile",
     kArea,
     {0.01, 0.01, 0.01, 0.01, 0.02, 0.02, kBlank},
     kHandbook},
    {"concrete-floor", "concrete floor", kArea, {0.01, 0.03, 0.05, 0.02, 0.02, 0.02, 0.02}, kBook},
    {"window-glass",
     "window glass, ordinary",
     kArea,
     {0.35, 0.25, 0.18, 0.12, 0.07, 0.04, kBlank},
     kHandbook},
    {"plate-glass",
     "large panes heavy plate glass",
     kArea,
     {0.18, 0.06, 0.04, 0.03, 0.02, 0.02, kBlank},
     kHandbook},
    {"leaded-glazing", "leaded glazing", kArea, {0.3, 0.2, 0.14, 0.1, 0.05, 0.05, kBlank}, kBook},
    {"single-pane-3mm",
     "single pane 3 mm",
     kArea,
     {0.08, 0.04, 0.03, 0.03, 0.02, 0.02, 0.02},
     kBook},
    {"wood-floor-on-joists",
     "wood floor on joists",
     kArea,
     {0.15, 0.11, 0.1, 0.07, 0.06, 0.07, kBlank},
     kHandbook},
    {"parquet-on-concrete",
     "wood parquet on concrete",
     kArea,
     {0.04, 0.04, 0.07, 0.06, 0.06, 0.07, kBlank},
     kHandbook},
    {"wood-floor-on-sleepers",
     "wooden audience floor, 33 mm on sleepers over concrete",
     kArea,
     {0.09, 0.06, 0.05, 0.05, 0.05, 0.04, kBlank},
     kBook},
    {"wooden-door", "solid wooden door", kArea, {0.14, 0.1, 0.06, 0.08, 0.1, 0.1, 0.1}, kBook},
    {"carpet-on-concrete",
     "carpet, heavy, on concrete",
     kArea,
     {0.02, 0.06, 0.14, 0.37, 0.6, 0.65, kBlank},
     kHandbook},
    {"carpet-on-felt",
     "carpet, heavy, on hair felt or foam",
     kArea,
     {0.08, 0.24, 0.57, 0.69, 0.71, 0.73, kBlank},
     kHandbook},
    {"carpet-thin",
     "carpet, thin, cemented to concrete",
     kArea,
     {0.02, 0.04, 0.08, 0.2, 0.35, 0.4, kBlank},
     kBook},
    {"person-seated",
     "one person seated",
     kEach,
     {0.23, 0.37, 0.44, 0.45, 0.45, 0.45, kBlank},
     kPersons},
    {"person-standing",
     "one person standing",
     kEach,
     {0.15, 0.37, 0.43, 0.44, 0.44, 0.43, kBlank},
     kPersons},
    {"person-on-chair",
     "one person, derived: audience on wooden chairs 1 per m2 minus empty chair",
     kEach,
     {0.135, 0.2, 0.51, 0.63, 0.75, 0.72, kBlank},
     kDerived},
};

}  // namespace

std::span<const Material> materials() { return kMaterials; }

const Material* find_material(std::string_view id) {
  for (const Material& material : kMaterials) {
    if (material.id == id) return &material;
  }
  return nullptr;
}

}  // namespace loftbeat::room
