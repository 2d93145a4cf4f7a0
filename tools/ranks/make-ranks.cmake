# Makes soundfonts/ranks.sf2 unless it is current. Takes BUILDER (the program) and SOURCES (the tree).
#
# Current means: made from the recipes and the code as they stand, and still the size it was made
# with. The lock lets one build at a time through; the others wait, then find it current.
set(font "${SOURCES}/soundfonts/ranks.sf2")
set(stamp "${font}.stamp")
file(LOCK "${font}.lock" GUARD PROCESS TIMEOUT 900)

file(GLOB inputs "${SOURCES}/soundfonts/*.toml" "${SOURCES}/src/pipes/*.h"
     "${SOURCES}/src/pipes/*.cpp" "${SOURCES}/src/hearing/bands.cpp")
list(SORT inputs)
set(digests "")
foreach(input IN LISTS inputs)
  file(SHA256 "${input}" digest)
  string(APPEND digests "${digest} ${input}\n")
endforeach()
string(REPLACE "${SOURCES}/" "" digests "${digests}")
string(SHA256 wanted "${digests}")

if(EXISTS "${font}" AND EXISTS "${stamp}")
  file(READ "${stamp}" made)
  file(SIZE "${font}" size)
  if(made STREQUAL "${wanted} ${size}")
    return()
  endif()
endif()

file(REMOVE "${stamp}")
execute_process(COMMAND "${BUILDER}" "${SOURCES}/soundfonts" "${font}" COMMAND_ERROR_IS_FATAL ANY)
file(SIZE "${font}" size)
file(WRITE "${stamp}" "${wanted} ${size}")
