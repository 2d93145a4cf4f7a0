# loftbeat_fuzz_target(NAME SOURCES a_fuzz.cpp ... LIBS music ... [SEEDS folder] [DICTIONARY file]
#                      [EXTRA_LIBS pkg ...] [MAX_BYTES n])
#
# Builds a libFuzzer program (clang; the sources define LLVMFuzzerTestOneInput) and adds a test of
# some seconds, labelled fuzz, that starts from the seeds: the folder `seeds` beside the source
# unless stated, which the run leaves as it is; what it finds stays in the build tree. Every find becomes a seed.
#
# LOFTBEAT_FUZZ_SECONDS is how long each target may run; beyond half a minute it is meant to look for
# the new, and the number of runs is not bounded.
#
# The libraries are instrumented for coverage through the common settings, which CMake applies when
# it generates: the order of including does not matter.
set(LOFTBEAT_FUZZ_SECONDS 10 CACHE STRING "How long each fuzz target may run")
if(LOFTBEAT_FUZZ)
  target_compile_options(loftbeat_settings INTERFACE -fsanitize=fuzzer-no-link)
endif()

function(loftbeat_fuzz_target name)
  cmake_parse_arguments(LB "" "SEEDS;DICTIONARY;MAX_BYTES" "SOURCES;LIBS;EXTRA_LIBS" ${ARGN})
  if(NOT LB_SEEDS)
    set(LB_SEEDS seeds)
  endif()
  if(NOT LB_MAX_BYTES)
    set(LB_MAX_BYTES 65536)
  endif()
  add_executable(${name} ${LB_SOURCES})
  set_target_properties(${name} PROPERTIES CXX_EXTENSIONS OFF)
  list(TRANSFORM LB_LIBS PREPEND loftbeat::)
  target_link_libraries(${name} PRIVATE loftbeat_settings ${LB_LIBS} ${LB_EXTRA_LIBS})
  target_link_options(${name} PRIVATE -fsanitize=fuzzer)
  if(TARGET fuzz_tests)
    add_dependencies(fuzz_tests ${name})
  endif()

  # The fuzzer adds what it finds to the first folder, and only reads the second.
  set(found "${CMAKE_CURRENT_BINARY_DIR}/${name}.found")
  file(MAKE_DIRECTORY "${found}")
  set(runs 20000)
  if(LOFTBEAT_FUZZ_SECONDS GREATER 30)
    set(runs -1)
  endif()
  math(EXPR timeout "${LOFTBEAT_FUZZ_SECONDS} + 110")
  set(options -runs=${runs} -max_total_time=${LOFTBEAT_FUZZ_SECONDS} -max_len=${LB_MAX_BYTES} -timeout=10
      -rss_limit_mb=2048 -artifact_prefix=${found}/)
  if(LB_DICTIONARY)
    list(APPEND options "-dict=${CMAKE_CURRENT_SOURCE_DIR}/${LB_DICTIONARY}")
  endif()
  add_test(NAME ${name} COMMAND ${name} ${options} "${found}" "${CMAKE_CURRENT_SOURCE_DIR}/${LB_SEEDS}")
  set_tests_properties(${name} PROPERTIES LABELS fuzz TIMEOUT ${timeout})
endfunction()
