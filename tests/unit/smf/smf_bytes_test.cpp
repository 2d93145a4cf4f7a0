#include "music/smf_bytes.h"

#include <gtest/gtest.h>

#include "smf_hex.h"

namespace loftbeat::music {
namespace {

struct Row {
  std::uint32_t value;
  const char* bytes;
};

// The table of variable-length quantities in the Standard MIDI Files 1.0 specification (RP-001).
constexpr Row kTable[] = {
    {0x00000000, "00"},          {0x00000040, "40"},          {0x0000007F, "7F"},
    {0x00000080, "81 00"},       {0x00002000, "C0 00"},       {0x00003FFF, "FF 7F"},
    {0x00004000, "81 80 00"},    {0x00100000, "C0 80 00"},    {0x001FFFFF, "FF FF 7F"},
    {0x00200000, "81 80 80 00"}, {0x08000000, "C0 80 80 00"}, {0x0FFFFFFF, "FF FF FF 7F"},
};

TEST(VariableLength, IsReadAsInTheTableOfTheSpecification) {
  for (const Row& row : kTable) {
    const std::string bytes = hex(row.bytes);
    ByteCursor cursor(bytes);
    EXPECT_EQ(cursor.variable_length(), row.value);
    EXPECT_TRUE(cursor.at_end());
  }
}

TEST(VariableLength, IsWrittenAsInTheTableOfTheSpecification) {
  for (const Row& row : kTable) {
    std::string out;
    append_variable_length(out, row.value);
    EXPECT_EQ(out, hex(row.bytes)) << row.value;
  }
}

TEST(VariableLength, EndsAfterFourBytes) {
  const std::string five = hex("81 80 80 80 00");
  ByteCursor cursor(five);
  EXPECT_FALSE(cursor.variable_length().has_value());
  EXPECT_EQ(cursor.position(), 0u) << "a failed read moves nothing";
}

TEST(VariableLength, IsRefusedWhereTheBytesEnd) {
  const std::string cut = hex("81 80");
  ByteCursor cursor(cut);
  EXPECT_FALSE(cursor.variable_length().has_value());
  EXPECT_EQ(cursor.remaining(), 2u);
}

TEST(ByteCursor, ReadsBothByteOrders) {
  const std::string bytes = hex("01 02 03 04 01 02 03 04 05");
  ByteCursor cursor(bytes);
  EXPECT_EQ(cursor.u32(), 0x01020304u);
  EXPECT_EQ(cursor.u32_little(), 0x04030201u);
  EXPECT_FALSE(cursor.u16().has_value());
  EXPECT_EQ(cursor.u8(), 5);
  EXPECT_FALSE(cursor.u8().has_value());
}

}  // namespace
}  // namespace loftbeat::music
