#include <gtest/gtest.h>

#include "village_organ.h"

namespace loftbeat::organ {
namespace {

constexpr const char* kLeast = R"([[division]]
name = "Great"
[[stop]]
name = "Flute"
division = "Great"
pitch = "8"
family = "open-flute"
)";

// The message for a file with `more` at its end; the text begins at line 8.
std::string error_with(const std::string& more) {
  const auto organ = parse_organ(kLeast + more, "x.organ.toml");
  return organ.ok() ? "" : to_string(organ.error());
}

TEST(OrganErrors, TheLeastFileIsGood) { EXPECT_EQ(error_with(""), ""); }

TEST(OrganErrors, NameFileLineAndTheNearest) {
  const std::string key = error_with("[[stop]]\nname = \"A\"\ndivison = \"Great\"\n");
  EXPECT_NE(key.find("x.organ.toml:10"), std::string::npos) << key;
  EXPECT_NE(key.find("\"division\""), std::string::npos) << key;
  const std::string division = error_with(
      "[[stop]]\nname = \"A\"\ndivision = \"Graet\"\npitch = \"8\"\nfamily = \"reed\"\n");
  EXPECT_NE(division.find("x.organ.toml:10"), std::string::npos) << division;
  EXPECT_NE(division.find("\"Great\""), std::string::npos) << division;
  const std::string family = error_with(
      "[[stop]]\nname = \"A\"\ndivision = \"Great\"\npitch = \"8\"\nfamily = \"principle\"\n");
  EXPECT_NE(family.find("x.organ.toml:12"), std::string::npos) << family;
  EXPECT_NE(family.find("\"principal\""), std::string::npos) << family;
}

TEST(OrganErrors, WhatMakesNoSenseIsRefusedWhereItStands) {
  struct Case {
    const char* more;
    int line;
  };
  const std::string stop = "[[stop]]\nname = \"A\"\ndivision = \"Great\"\n";
  for (const Case& wrong : {
           Case{"pitch = \"9 8\"\nfamily = \"reed\"\n", 11},
           Case{"pitch = \"IV\"\nfamily = \"reed\"\n", 11},
           Case{"pitch = \"8\"\nfamily = \"mixture\"\n", 11},
           Case{"pitch = true\nfamily = \"reed\"\n", 11},
           Case{"pitch = \"8\"\nfamily = \"reed\"\npower = 21\n", 13},
           Case{"pitch = \"8\"\nfamily = \"reed\"\nmidi = { note = 3 }\n", 13},
           Case{"pitch = \"8\"\nfamily = \"reed\"\nmidi = { note = 3, control = 3, channel = 1 }\n",
                13},
           Case{"pitch = \"8\"\nfamily = \"reed\"\nmidi = { sysex = \"F0 80 F7\" }\n", 13},
           Case{"pitch = \"8\"\nfamily = \"reed\"\nmidi = { sysex = \"F0 7D\" }\n", 13},
           Case{"pitch = \"8\"\nfamily = \"reed\"\nmidi = { control = 3, channel = 1, on = 0 }\n",
                13},
       }) {
    const std::string message = error_with(stop + wrong.more);
    EXPECT_NE(message.find("x.organ.toml:" + std::to_string(wrong.line)), std::string::npos)
        << wrong.more << "-> " << message;
  }
  for (const char* more : {
           "[[stop]]\nname = \"flute\"\ndivision = \"Great\"\npitch = \"8'\"\nfamily = \"reed\"\n",
           "[[division]]\nname = \"GREAT\"\n",
           "[[division]]\nname = \"Swell\"\nbox-closed = -3\n",
           "[[division]]\nname = \"Swell\"\ncompass = [\"C4\", \"C3\"]\n",
           "[[division]]\nname = \"Swell\"\ncompass = [\"H4\", \"C5\"]\n",
           "[[division]]\nname = \"\"\n",
           "[[coupler]]\nname = \"A\"\nplayed-on = \"Great\"\nsounds = \"Great\"\n",
           "[[coupler]]\nname = \"A\"\nplayed-on = \"Great\"\nsounds = \"Great\"\nsemitones = 7\n",
           "[[tremulant]]\nname = \"A\"\ndivision = \"Great\"\nrate = 1\n",
           "[[piston]]\nname = \"A\"\nstops = [\"Trumpet\"]\n",
           "[split]\nkey = \"C3\"\nbelow = \"Pedal\"\nabove = \"Great\"\n",
       }) {
    EXPECT_NE(error_with(more).find("x.organ.toml:"), std::string::npos) << more;
  }
}

TEST(OrganErrors, NothingIsNoOrgan) {
  EXPECT_FALSE(parse_organ("", "x").ok());
  EXPECT_FALSE(parse_organ("[[division]]\nname = \"Great\"\n", "x").ok());
  EXPECT_FALSE(parse_organ("division = []\nstop = []\n", "x").ok());
  EXPECT_FALSE(parse_organ("stop = 3\ndivision = \"a\"\n", "x").ok());
  std::string many = kLeast;
  for (int i = 0; i < 500; ++i) {
    many += "[[stop]]\nname = \"S" + std::to_string(i) +
            "\"\ndivision = \"Great\"\npitch = \"8\"\nfamily = \"reed\"\n";
  }
  EXPECT_FALSE(parse_organ(many, "x").ok());
}

}  // namespace
}  // namespace loftbeat::organ
