# What is installed and packed: the program, its data, the schema of the production file, the man page
# and the completion of three shells; and the target `bench`.

# The program looks for its data at ../share/greasepaint beside itself; in the build folder a link
# stands there, so that one rule serves both.
file(MAKE_DIRECTORY "${CMAKE_BINARY_DIR}/share/greasepaint")
file(CREATE_LINK "${CMAKE_SOURCE_DIR}/templates" "${CMAKE_BINARY_DIR}/share/greasepaint/templates"
     SYMBOLIC)

# Written by the program from its own list of options, so that they cannot say anything else.
set(GP_WRITTEN "${CMAKE_BINARY_DIR}/share")
add_custom_command(
  OUTPUT "${GP_WRITTEN}/greasepaint.1" "${GP_WRITTEN}/greasepaint.bash" "${GP_WRITTEN}/_greasepaint"
         "${GP_WRITTEN}/greasepaint.fish"
  COMMAND greasepaint man-page > "${GP_WRITTEN}/greasepaint.1"
  COMMAND greasepaint completion bash > "${GP_WRITTEN}/greasepaint.bash"
  COMMAND greasepaint completion zsh > "${GP_WRITTEN}/_greasepaint"
  COMMAND greasepaint completion fish > "${GP_WRITTEN}/greasepaint.fish"
  DEPENDS greasepaint
  COMMENT "Writing the man page and the completions"
  VERBATIM)
add_custom_target(manual ALL DEPENDS "${GP_WRITTEN}/greasepaint.1")

install(TARGETS greasepaint RUNTIME DESTINATION "${CMAKE_INSTALL_BINDIR}")
install(DIRECTORY templates DESTINATION "${CMAKE_INSTALL_DATADIR}/greasepaint")
install(FILES docs/production.schema.json DESTINATION "${CMAKE_INSTALL_DATADIR}/greasepaint")
install(FILES "${GP_WRITTEN}/greasepaint.1" DESTINATION "${CMAKE_INSTALL_MANDIR}/man1")
install(FILES "${GP_WRITTEN}/greasepaint.bash"
        DESTINATION "${CMAKE_INSTALL_DATADIR}/bash-completion/completions" RENAME greasepaint)
install(FILES "${GP_WRITTEN}/_greasepaint"
        DESTINATION "${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions")
install(FILES "${GP_WRITTEN}/greasepaint.fish"
        DESTINATION "${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d")
install(FILES LICENSE DESTINATION "${CMAKE_INSTALL_DOCDIR}" RENAME copyright)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME greasepaint)
set(CPACK_PACKAGE_VERSION "${PROJECT_VERSION}")
set(CPACK_PACKAGE_VENDOR "greasepaint")
set(CPACK_PACKAGE_CONTACT "the greasepaint developers <nobody@localhost>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "plans the days of a film made for fun")
set(CPACK_PACKAGE_DESCRIPTION
    "Reads who comes, which parts, costumes, make-up stations and scenes there\nare; plans who plays \
and helps where and when each person must come, so that\neverybody gives the least of their time; \
and prints the day on paper.\nWorks offline.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION misc)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
# what the linker does not see: the zones and the fonts
set(CPACK_DEBIAN_PACKAGE_DEPENDS "tzdata, fonts-noto-core, fonts-droid-fallback, fonts-symbola")
include(CPack)

# Seconds and memory to plan and print each demo; the numbers of a release stand in
# docs/benchmarks.md.
add_custom_target(bench
  COMMAND python3 "${CMAKE_SOURCE_DIR}/.ci/bench.py" $<TARGET_FILE:greasepaint>
  DEPENDS greasepaint USES_TERMINAL VERBATIM)
