package ohmprint.app.workspace;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What is in a workspace.
 *
 * @param version version of the program
 * @param workspace path of the folder
 * @param sessions sessions, the one changed last first
 * @param loose recordings directly in the workspace
 * @param library file or address of the library, without secrets
 * @param hasLibrary whether there is one
 * @param operator who works here unless told otherwise
 * @param workshop name of the file that says who hands a sheet over, or null
 */
public record WorkspaceView(
        String version,
        String workspace,
        List<Listed> sessions,
        List<AudioFileView> loose,
        String library,
        boolean hasLibrary,
        String operator,
        @Nullable String workshop) {
    /**
     * A session in a few words.
     *
     * @param name name of its folder
     * @param label label of the microphone, or null when the manifest does not tell
     * @param takes number of takes
     * @param loads their loads in words
     * @param hasCurve whether it has been measured
     * @param verdict how far the curve can be trusted, or null without one
     * @param problem what is wrong with it, or null
     * @param changedAt when manifest or result changed last, ISO 8601
     */
    public record Listed(
            String name,
            @Nullable String label,
            int takes,
            List<String> loads,
            boolean hasCurve,
            @Nullable String verdict,
            @Nullable String problem,
            String changedAt) {}
}
