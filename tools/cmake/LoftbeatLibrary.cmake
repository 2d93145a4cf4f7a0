# How every folder of src/ becomes a library, and every folder of tests/ a test program.

# One interface target carries the language standard, the warnings and the sanitizers.
function(loftbeat_common_settings)
  add_library(loftbeat_settings INTERFACE)
  target_compile_features(loftbeat_settings INTERFACE cxx_std_20)
  target_compile_options(loftbeat_settings INTERFACE
    -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wsign-conversion -Wnon-virtual-dtor
    -Wold-style-cast -Woverloaded-virtual -Wimplicit-fallthrough
    # g++ 12 at -O3 sees overlaps inside std::string's own operator+ that cannot happen.
    $<$<CXX_COMPILER_ID:GNU>:-Wno-restrict>)
  if(LOFTBEAT_SANITIZE)
    target_compile_options(loftbeat_settings INTERFACE
      -fsanitize=${LOFTBEAT_SANITIZE} -fno-omit-frame-pointer -fno-sanitize-recover=all)
    if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND LOFTBEAT_SANITIZE MATCHES undefined)
      # These two double g++'s compile time. Null pointers stop the program under the address
      # sanitizer anyway; nothing here casts to stricter alignment, and clang's fuzz build checks it.
      target_compile_options(loftbeat_settings INTERFACE -fno-sanitize=null,alignment)
    endif()
    target_link_options(loftbeat_settings INTERFACE -fsanitize=${LOFTBEAT_SANITIZE})
  endif()
endfunction()

# loftbeat_library(NAME HEADERS a.h ... SOURCES a.cpp ... [DEPENDS base music ...] [PRIVATE_LIBS pkg ...])
#
# A library sees the headers of the folders in DEPENDS and of no other: each folder's headers
# are reached through a directory of their own in the build tree (faces/NAME/NAME -> src/NAME),
# so an include that breaks the order of the house does not compile. DEPENDS is public.
function(loftbeat_library name)
  cmake_parse_arguments(LB "" "" "HEADERS;SOURCES;DEPENDS;PRIVATE_LIBS" ${ARGN})
  set(face "${CMAKE_BINARY_DIR}/faces/${name}")
  file(MAKE_DIRECTORY "${face}")
  file(CREATE_LINK "${CMAKE_CURRENT_SOURCE_DIR}" "${face}/${name}" SYMBOLIC)
  set(target loftbeat_${name})
  add_library(${target} STATIC ${LB_SOURCES})
  add_library(loftbeat::${name} ALIAS ${target})
  set_target_properties(${target} PROPERTIES CXX_EXTENSIONS OFF LINKER_LANGUAGE CXX)
  list(TRANSFORM LB_HEADERS PREPEND "${face}/${name}/")
  target_sources(${target} PUBLIC FILE_SET HEADERS BASE_DIRS "${face}" FILES ${LB_HEADERS})
  list(TRANSFORM LB_DEPENDS PREPEND loftbeat::)
  target_link_libraries(${target} PUBLIC loftbeat_settings ${LB_DEPENDS} PRIVATE ${LB_PRIVATE_LIBS})
endfunction()

# loftbeat_test(NAME LABEL unit SOURCES a_test.cpp ... LIBS music take ... [EXTRA_LIBS pkg ...])
# Tests find the source tree through the macro LOFTBEAT_SOURCE_DIR.
function(loftbeat_test name)
  cmake_parse_arguments(LB "" "LABEL;TIMEOUT" "SOURCES;LIBS;EXTRA_LIBS;PROPERTIES" ${ARGN})
  if(NOT LB_TIMEOUT)
    set(LB_TIMEOUT 60)
  endif()
  add_executable(${name} ${LB_SOURCES})
  set_target_properties(${name} PROPERTIES CXX_EXTENSIONS OFF)
  # What is tested is compiled as ever; the tests themselves take half the time to compile so.
  target_compile_options(${name} PRIVATE ${LOFTBEAT_TEST_OPTIONS})
  list(TRANSFORM LB_LIBS PREPEND loftbeat::)
  target_link_libraries(${name} PRIVATE loftbeat_settings ${LB_LIBS} ${LB_EXTRA_LIBS} GTest::gtest_main)
  target_compile_definitions(${name} PRIVATE LOFTBEAT_SOURCE_DIR="${PROJECT_SOURCE_DIR}")
  gtest_discover_tests(${name} DISCOVERY_MODE PRE_TEST
    PROPERTIES LABELS ${LB_LABEL} TIMEOUT ${LB_TIMEOUT} ${LB_PROPERTIES})
  add_dependencies(${LB_LABEL}_tests ${name})
endfunction()
